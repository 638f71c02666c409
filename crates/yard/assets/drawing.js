// The drawing of the house: it turns, and lights a mark, a piece, a step of the build, or all that is short.
// Everything here can also be had from the table, by keyboard and by ear.
const ground = document.querySelector("[data-drawing]");
const said = document.querySelector("[data-lit-says]");
const steps = document.querySelector("[data-light-stage]");
const quote = (text) => CSS.escape(text);

/** What is lit: { key, shapes (a selector), marks, says }; nothing when all is drawn alike. */
let lit = null;

function show() {
  const drawing = ground.querySelector("svg");
  drawing.querySelectorAll(".lit").forEach((shape) => shape.classList.remove("lit"));
  document.querySelectorAll("tr[aria-selected]").forEach((row) => row.removeAttribute("aria-selected"));
  document.querySelectorAll("button[aria-pressed]").forEach((button) => button.setAttribute("aria-pressed", "false"));
  drawing.classList.toggle("lighting", lit !== null);
  if (!lit) { said.textContent = "Nothing is lit."; return; }
  const shapes = drawing.querySelectorAll(lit.shapes);
  shapes.forEach((shape) => shape.classList.add("lit"));
  for (const mark of lit.marks) {
    const row = document.querySelector(`tr[data-row="${quote(mark)}"]`);
    row?.setAttribute("aria-selected", "true");
    row?.querySelector("button.light")?.setAttribute("aria-pressed", "true");
  }
  document.querySelector("[data-light-marks]")?.setAttribute("aria-pressed", String(lit.key === "short"));
  said.textContent = shapes.length ? lit.says : `${lit.says} It is not drawn.`;
}

function light(wanted) {
  lit = lit?.key === wanted.key ? null : wanted;
  if (steps && !wanted.key.startsWith("stage ")) steps.value = "";
  show();
}

function markWanted(mark) {
  const says = document.querySelector(`tr[data-row="${quote(mark)}"]`)?.dataset.says ?? "";
  return { key: `mark ${mark}`, shapes: `[data-mark="${quote(mark)}"]`, marks: [mark], says: `${mark} is lit: ${says}` };
}

function pieceWanted(piece) {
  const shape = ground.querySelector(`[data-piece="${quote(piece)}"]`);
  if (!shape) return null;
  const mark = shape.dataset.mark ?? shape.closest("[data-mark]")?.dataset.mark ?? "";
  // Where a line has many pieces, its group bears the title.
  const title = shape.querySelector("title") ?? shape.parentElement.querySelector(":scope > title");
  const name = title?.textContent ?? mark;
  return { key: `piece ${piece}`, shapes: `[data-piece="${quote(piece)}"]`, marks: [mark], says: `${name}. Touch it again for all ${mark}.` };
}

/** The first touch lights the piece, the second all of its mark, the third nothing. */
function touched(event) {
  const shape = event.target.closest("[data-mark]");
  if (!shape) return;
  const wanted = shape.dataset.piece === undefined ? null : pieceWanted(shape.dataset.piece);
  if (!wanted || lit?.key === wanted.key) light(markWanted(shape.dataset.mark));
  else if (lit?.key === `mark ${shape.dataset.mark}`) light(lit);
  else light(wanted);
}

/** The corners in the order of a walk around the house: key and words. */
const walk = document.querySelector("[data-views]");
const corners = walk ? walk.dataset.views.split(",").map((corner) => corner.split(":")) : [];
let corner = 0;

async function turn(event) {
  event.preventDefault();
  const next = (corner + Number(event.currentTarget.dataset.turn) + corners.length) % corners.length;
  const [key, words] = corners[next];
  try {
    const answer = await fetch(`/drawings/${key}`);
    if (!answer.ok) throw new Error(answer.statusText);
    const drawn = new DOMParser().parseFromString(await answer.text(), "image/svg+xml").documentElement;
    ground.replaceChildren(document.importNode(drawn, true));
  } catch {
    // Without the yard's computer in reach the drawing stays as it is.
    said.textContent = "The yard cannot be reached; the drawing stays as it is.";
    return;
  }
  corner = next;
  walk.querySelector("[data-from]").textContent = `From the ${words}`;
  if (lit) show();
}

if (ground) {
  document.querySelectorAll("button.light").forEach((button) => {
    button.disabled = false;
    button.addEventListener("click", () => light(markWanted(button.dataset.mark)));
  });
  const seen = new URLSearchParams(location.search).get("view");
  corner = Math.max(0, corners.findIndex(([key]) => key === seen));
  walk.querySelectorAll("[data-turn]").forEach((link) => link.addEventListener("click", turn));
  if (steps) {
    steps.disabled = false;
    steps.addEventListener("change", () => {
      const stage = steps.value;
      if (!stage) { lit = null; show(); return; }
      const inStage = `[data-stage="${quote(stage)}"]`;
      light({ key: `stage ${stage}`, shapes: `path${inStage}, ${inStage} path`, marks: [], says: `The step "${stage}" is lit.` });
    });
  }
  const short = document.querySelector("[data-light-marks]");
  if (short) {
    short.disabled = false;
    const marks = short.dataset.lightMarks.split("\n");
    short.addEventListener("click", () => light({
      key: "short", marks, says: `Short: ${marks.join(", ")}.`,
      shapes: marks.map((mark) => `[data-mark="${quote(mark)}"]`).join(", "),
    }));
  }
  ground.addEventListener("click", touched);
  const asked = new URLSearchParams(location.search);
  const wanted = asked.has("piece") ? pieceWanted(asked.get("piece")) : asked.has("lit") ? markWanted(asked.get("lit")) : null;
  if (wanted) light(wanted);
}
