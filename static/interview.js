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

// Puts a picked reading into its box as if it had been typed; without this the button sends the form.
document.addEventListener("click", (event) => {
  const button = event.target.closest('button[name="reading"]');
  if (!button) return;
  const at = button.value.indexOf("=");
  const box = document.getElementById(button.value.slice(0, at));
  if (!box) return;
  event.preventDefault();
  box.value = button.value.slice(at + 1);
  box.dispatchEvent(new Event("change", { bubbles: true }));
  box.focus();
});
