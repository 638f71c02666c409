// Rings over a picture of a bundle's end. A touch on a ring takes it away, a touch beside one adds a ring of the usual
// size. By keyboard a ring is added by its button, moved by the arrows, and taken away by Enter. All in ten-thousandths of the picture's width.
const ground = document.querySelector("[data-rings]");
const form = document.querySelector("form.from-photo");
const field = form.querySelector("input[name=rings]");
const number = form.querySelector("[data-number]");
const picture = ground.querySelector("img");
const SVG = "http://www.w3.org/2000/svg";

let rings = ground.dataset.rings.split(" ").filter(Boolean).map((text) => text.split(",").map(Number));
const undone = [];

function usual() {
  const radii = rings.map(([, , r]) => r).sort((a, b) => a - b);
  return radii.length ? radii[Math.floor(radii.length / 2)] : 300;
}

const sheet = document.createElementNS(SVG, "svg");
sheet.setAttribute("role", "group");
ground.append(sheet);

function show() {
  const height = Math.round((picture.naturalHeight / picture.naturalWidth) * 10000) || 7500;
  sheet.setAttribute("viewBox", `0 0 10000 ${height}`);
  sheet.replaceChildren(...rings.map(([x, y, r], at) => {
    const ring = document.createElementNS(SVG, "circle");
    for (const [name, value] of Object.entries({ cx: x, cy: y, r, tabindex: 0, role: "button" })) ring.setAttribute(name, value);
    ring.setAttribute("aria-label", `Ring ${at + 1}: Enter takes it away, arrows move it`);
    ring.addEventListener("keydown", (event) => {
      const step = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] }[event.key];
      if (step) { event.preventDefault(); remember(); rings[at] = [x + step[0] * 50, y + step[1] * 50, r]; show(); sheet.children[at].focus(); }
      if (event.key === "Delete" || event.key === "Enter" || event.key === " ") { event.preventDefault(); remember(); rings.splice(at, 1); show(); sheet.children[Math.min(at, rings.length - 1)]?.focus(); }
    });
    return ring;
  }));
  sheet.setAttribute("aria-label", `${rings.length} rings over the picture`);
  field.value = rings.map((ring) => ring.join(",")).join(" ");
  number.textContent = rings.length;
  form.querySelector("button.main").disabled = rings.length === 0;
  form.querySelector("[data-back]").disabled = !undone.length;
}

function remember() { undone.push(rings.map((ring) => [...ring])); }

sheet.addEventListener("click", (event) => {
  const box = sheet.getBoundingClientRect();
  const [x, y] = [event.clientX - box.left, event.clientY - box.top].map((n) => Math.round((n / box.width) * 10000));
  remember();
  // A gloved finger is broad: a ring is touched within its rim and a little beyond it.
  const near = rings.map(([cx, cy, r], at) => ({ at, far: Math.hypot(x - cx, y - cy) / r })).sort((a, b) => a.far - b.far)[0];
  if (near && near.far < 1.1) rings.splice(near.at, 1);
  else rings.push([x, y, usual()]);
  show();
});

form.querySelector("[data-more]").addEventListener("click", () => {
  remember();
  rings.push([5000, Math.round(Number(sheet.getAttribute("viewBox").split(" ")[3]) / 2), usual()]);
  show();
  sheet.lastElementChild.focus();
});
form.querySelector("[data-back]").addEventListener("click", () => { if (undone.length) { rings = undone.pop(); show(); } });
if (picture.complete) show(); else picture.addEventListener("load", show);
