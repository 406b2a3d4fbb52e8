// Marks boxes as wrong or right again after htmx has brought what stands around them.
// Pages work without this: the server then draws the whole page anew.
document.addEventListener("htmx:oobAfterSwap", (event) => {
  const id = event.target.id || "";
  if (!id.endsWith("-fault")) return;
  const box = document.getElementById(id.slice(0, -"-fault".length));
  if (!box) return;
  if (event.target.textContent.trim()) box.setAttribute("aria-invalid", "true");
  else box.removeAttribute("aria-invalid");
});
