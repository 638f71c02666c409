// Touching a row lights its pieces in the drawing, and touching a piece lights its row.
const drawing = document.querySelector("svg.frame");
const said = document.querySelector("[data-lit-says]");

function light(mark) {
  const again = drawing.dataset.lit === mark;
  drawing.querySelectorAll(".lit").forEach((shape) => shape.classList.remove("lit"));
  document.querySelectorAll("tr[aria-selected]").forEach((row) => row.removeAttribute("aria-selected"));
  document.querySelectorAll("button.light").forEach((button) => button.setAttribute("aria-pressed", "false"));
  drawing.classList.toggle("lighting", !again);
  drawing.dataset.lit = again ? "" : mark;
  if (again) { said.textContent = "Nothing is lit."; return; }
  const shapes = drawing.querySelectorAll(`[data-mark="${CSS.escape(mark)}"]`);
  shapes.forEach((shape) => shape.classList.add("lit"));
  const row = document.querySelector(`tr[data-row="${CSS.escape(mark)}"]`);
  row?.setAttribute("aria-selected", "true");
  row?.querySelector("button.light")?.setAttribute("aria-pressed", "true");
  said.textContent = shapes.length ? `${mark} is lit: ${row?.dataset.says ?? ""}` : `${mark} is not drawn.`;
}

if (drawing) {
  document.querySelectorAll("button.light").forEach((button) => {
    button.disabled = false;
    button.addEventListener("click", () => light(button.dataset.mark));
  });
  drawing.addEventListener("click", (event) => {
    const mark = event.target.closest("[data-mark]")?.dataset.mark;
    if (mark) light(mark);
  });
  const asked = new URLSearchParams(location.search).get("lit");
  if (asked) light(asked);
}
