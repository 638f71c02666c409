// The plan of the piles: a pile is dragged, or reached with Tab and moved with the arrow keys; then the yard is asked what
// it costs. Nothing is kept before somebody says so. The form below does the same by words.
const sheet = document.querySelector("[data-laydown] svg");
const said = document.querySelector("[data-laydown-says]");

function ready() {
  const metre = Number(sheet.dataset.metre);
  const origin = { x: Number(sheet.dataset.x), y: Number(sheet.dataset.y) };
  const step = Number(document.querySelector("[data-laydown]").dataset.step) / 1000;
  let held = null;
  // A picture hides what is in it from who cannot see it; piles that can be moved are to be found.
  sheet.setAttribute("role", "group");

  /** The middle and the turn of a pile, from the four corners that are drawn, in metres and radians. */
  function lies(pile) {
    const numbers = pile.querySelector("path").getAttribute("d").match(/-?[\d.]+/g).map(Number);
    const corners = [0, 2, 4, 6].map((i) => ({ x: (numbers[i] - origin.x) / metre, y: (origin.y - numbers[i + 1]) / metre }));
    const turn = Math.atan2(corners[1].y - corners[0].y, corners[1].x - corners[0].x);
    return { x: (corners[0].x + corners[2].x) / 2, y: (corners[0].y + corners[2].y) / 2, turn };
  }

  function show(pile, by) {
    pile.moved = by;
    pile.setAttribute("transform", `translate(${by.x * metre} ${-by.y * metre})`);
  }

  function ask(pile) {
    const by = pile.moved ?? { x: 0, y: 0 };
    if (!by.x && !by.y) return;
    const at = lies(pile);
    const turn = ((Math.round(at.turn * 18000 / Math.PI) % 18000) + 18000) % 18000;
    const to = new URLSearchParams({
      pile: pile.dataset.pile,
      x: Math.round((at.x + by.x) * 1000),
      y: Math.round((at.y + by.y) * 1000),
      turn,
    });
    location.assign(`/laydown?${to}`);
  }

  function point(event) {
    const to = new DOMPoint(event.clientX, event.clientY).matrixTransform(sheet.getScreenCTM().inverse());
    return { x: to.x / metre, y: -to.y / metre };
  }

  for (const pile of sheet.querySelectorAll("[data-pile]")) {
    pile.setAttribute("tabindex", "0");
    pile.setAttribute("role", "button");
    // The label says what the title said; both at once would be read twice.
    const title = pile.querySelector("title");
    pile.setAttribute("aria-label", `${title.textContent}. Arrow keys move it, Enter asks what that costs.`);
    title.remove();
    pile.addEventListener("pointerdown", (event) => {
      held = { pile, from: point(event), was: pile.moved ?? { x: 0, y: 0 } };
      pile.setPointerCapture(event.pointerId);
      event.preventDefault();
      pile.focus();
    });
    pile.addEventListener("pointermove", (event) => {
      if (held?.pile !== pile) return;
      const to = point(event);
      show(pile, { x: held.was.x + to.x - held.from.x, y: held.was.y + to.y - held.from.y });
    });
    pile.addEventListener("pointerup", () => {
      if (held?.pile !== pile) return;
      held = null;
      const by = pile.moved ?? { x: 0, y: 0 };
      // A touch is no move.
      if (Math.hypot(by.x, by.y) < 0.05) show(pile, { x: 0, y: 0 });
      else ask(pile);
    });
    pile.addEventListener("pointercancel", () => { held = null; show(pile, { x: 0, y: 0 }); });
    pile.addEventListener("keydown", (event) => {
      const ways = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] };
      const way = ways[event.key];
      const by = pile.moved ?? { x: 0, y: 0 };
      if (way) {
        show(pile, { x: by.x + way[0] * step, y: by.y + way[1] * step });
        said.textContent = `Place ${pile.dataset.pile} moved. Enter asks what it costs, Escape takes it back.`;
      } else if (event.key === "Enter") ask(pile);
      else if (event.key === "Escape") show(pile, { x: 0, y: 0 });
      else return;
      event.preventDefault();
    });
  }
}

if (sheet) ready();
