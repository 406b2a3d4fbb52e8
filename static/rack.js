// A tap on the drawing of a cleft's sides fills in which side and where; without this the numbers are typed.
(() => {
  const drawing = document.getElementById("sides-drawing");
  const form = drawing && document.querySelector('form[data-tapped-on="sides-drawing"]');
  if (!form) return;
  const help = document.getElementById("tap-help");
  const mark = document.getElementById("sides-tap");
  if (help) help.hidden = false;

  const put = (name, value) => {
    const box = form.elements.namedItem(`blemish-${name}`);
    if (!box) return;
    box.value = value;
    box.dispatchEvent(new Event("change", { bubbles: true }));
  };

  drawing.addEventListener("click", (event) => {
    const strip = event.target.closest("[data-side]");
    if (!strip) return;
    const point = new DOMPoint(event.clientX, event.clientY).matrixTransform(drawing.getScreenCTM().inverse());
    const side = strip.getBBox();
    const along = Math.min(Math.max(point.x - side.x, 0), side.width);
    const down = Math.min(Math.max(point.y - side.y, 0), side.height);
    put("side", strip.dataset.side);
    put("from_end", along.toFixed(0));
    put("across", ("fromBelow" in strip.dataset ? side.height - down : down).toFixed(0));
    mark.setAttribute("transform", `translate(${point.x} ${point.y})`);
    mark.removeAttribute("hidden");
    const room = form.closest("details");
    if (room) room.open = true;
    const size = form.elements.namedItem("blemish-size");
    if (size) size.focus({ preventScroll: true });
  });
})();
