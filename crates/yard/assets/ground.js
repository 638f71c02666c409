// The ground as a drawing whose corners can be moved; what it writes are the lines of the form below, which is all that is
// sent. Without this module the lines are written by hand.
const text = document.querySelector("[data-ground-text]");
const editor = document.querySelector("[data-ground-editor]");
const SVG = "http://www.w3.org/2000/svg";
const KINDS = ["edge", "house", "drop", "gate", "truck", "obstacle", "covered", "shade", "slope"];

/** Metres from a length as it stands in the lines; null where it is none. */
function metres(words) {
  const size = words.trim().replace(/^[-−]/, "").trim();
  const sign = /^[-−]/.test(words.trim()) ? -1 : 1;
  if (size === "0") return 0;
  const number = (part) => {
    const mixed = part.trim().match(/^(?:(\d+(?:\.\d+)?)(?:[-\s](\d+)\/(\d+))?|(\d+)\/(\d+))$/);
    if (!mixed) return null;
    if (mixed[4]) return Number(mixed[4]) / Number(mixed[5]);
    return Number(mixed[1]) + (mixed[2] ? Number(mixed[2]) / Number(mixed[3]) : 0);
  };
  const feet = size.match(/^(\d+(?:\.\d+)?)\s*(?:ft|')\s*(?:([\d\s./-]+)\s*(?:in|")?)?$/);
  if (feet) {
    const inches = feet[2]?.trim() ? number(feet[2]) : 0;
    return inches === null ? null : sign * (Number(feet[1]) * 0.3048 + inches * 0.0254);
  }
  const one = size.match(/^(.+?)\s*(mm|cm|m|in|")?$/);
  const value = one ? number(one[1]) : null;
  if (value === null) return null;
  const bare = text.dataset.system === "feet" ? 0.3048 : 1;
  const unit = { mm: 0.001, cm: 0.01, m: 1, in: 0.0254, '"': 0.0254 }[one[2]] ?? bare;
  return sign * value * unit;
}

/** A length for the lines: to the inch or the centimetre. */
function words(value) {
  const sign = value < 0 ? "-" : "";
  const size = Math.abs(value);
  if (text.dataset.system !== "feet") return Math.round(size * 100) === 0 ? "0" : `${sign}${(Math.round(size * 100) / 100).toFixed(2)} m`;
  const inches = Math.round(size / 0.0254);
  if (!inches) return "0";
  const [feet, rest] = [Math.floor(inches / 12), inches % 12];
  return sign + (feet && rest ? `${feet} ft ${rest} in` : feet ? `${feet} ft` : `${rest} in`);
}

/** The lines with corners; others are left as they are. */
function read() {
  return text.value.split("\n").map((line) => {
    const head = line.match(/^\s*([^:(]*(?:\([^)]*\))?)\s*:(.*)$/);
    const kind = head?.[1].trim().split(/[\s(]/)[0].toLowerCase();
    if (!head || !KINDS.includes(kind)) return { line };
    const [spots, rest] = kind === "house" ? head[2].split(", towards") : [head[2], ""];
    const corners = spots.split(";").filter((spot) => spot.trim()).map((spot) => {
      const [x, y] = spot.split(/[x×]/).map((length) => metres(length ?? ""));
      return { x, y };
    });
    if (!corners.length || corners.some((c) => c.x === null || c.y === null || c.x === undefined || c.y === undefined)) return { line };
    return { head: head[1].trim(), kind, corners, rest };
  });
}

function write(lines) {
  text.value = lines.map((part) => part.line ?? `${part.head}: ${part.corners.map((c) => `${words(c.x)} x ${words(c.y)}`).join("; ")}${part.kind === "house" ? `, towards${part.rest}` : ""}`).join("\n");
}

const says = editor?.querySelector("[data-ground-says]");
const ground = editor?.querySelector("[data-ground-sheet]");
let frozen = null;

function draw(focus) {
  const lines = read();
  const all = lines.flatMap((part) => part.corners ?? []);
  if (!all.length) return;
  const xs = all.map((c) => c.x), ys = all.map((c) => c.y);
  // While a corner is dragged the sheet keeps still under it.
  const box = frozen ?? { low: { x: Math.min(...xs) - 2, y: Math.min(...ys) - 2 }, high: { x: Math.max(...xs) + 2, y: Math.max(...ys) + 2 } };
  const scale = 1000 / Math.max(box.high.x - box.low.x, box.high.y - box.low.y);
  const on = (c) => ({ u: (c.x - box.low.x) * scale, v: (box.high.y - c.y) * scale });
  const svg = document.createElementNS(SVG, "svg");
  svg.setAttribute("viewBox", `0 0 ${(box.high.x - box.low.x) * scale} ${(box.high.y - box.low.y) * scale}`);
  svg.setAttribute("class", "sheet");
  svg.setAttribute("role", "group");
  svg.setAttribute("aria-label", "The ground, corner by corner");
  const make = (name, attributes, parent = svg) => {
    const shape = document.createElementNS(SVG, name);
    for (const [key, value] of Object.entries(attributes)) shape.setAttribute(key, value);
    parent.append(shape);
    return shape;
  };
  // Words stand at the first corner where they hide no others.
  const taken = [];
  const wide = (box.high.x - box.low.x) * scale;
  const word = (part, parent) => {
    const long = part.head.length * 14;
    const places = part.corners.flatMap((c) => {
      const { u, v } = on(c);
      return [[u + 22, v - 14], [u + 22, v + 36], [u - 22 - long, v - 14], [u - 22 - long, v + 36], [u + 22, v + 66]];
    });
    const hides = ([x, y]) => taken.some((box) => x < box.x + box.long && box.x < x + long && Math.abs(y - box.y) < 28);
    const [x, y] = places.find((at) => at[0] >= 0 && at[0] + long <= wide && at[1] > 24 && !hides(at)) ?? places[0];
    taken.push({ x, y, long });
    make("text", { x, y, class: "part-words" }, parent).textContent = part.head;
  };
  lines.forEach((part) => {
    if (!part.corners || part.corners.length < 2) return;
    const points = part.corners.map((c) => { const { u, v } = on(c); return `${u},${v}`; }).join(" ");
    make(part.kind === "gate" ? "polyline" : "polygon", { points, class: `part ${part.kind}` });
    word(part, svg);
  });
  lines.forEach((part, row) => part.corners?.forEach((corner, i) => {
    const { u, v } = on(corner);
    const name = part.corners.length > 1 ? `${part.head}, corner ${i + 1} of ${part.corners.length}` : part.head;
    const handle = make("g", { class: "handle", tabindex: 0, role: "button", "aria-label": `${name}: ${words(corner.x)} right, ${words(corner.y)} up`, "data-at": `${row} ${i}` });
    make("circle", { cx: u, cy: v, r: 34, class: "reach" }, handle);
    make("circle", { cx: u, cy: v, r: 13, class: part.kind }, handle);
    if (part.corners.length === 1) word(part, handle);
    const point = (event) => {
      const to = new DOMPoint(event.clientX, event.clientY).matrixTransform(ground.querySelector("svg").getScreenCTM().inverse());
      return { x: to.x / scale + box.low.x, y: box.high.y - to.y / scale };
    };
    handle.addEventListener("pointerdown", (event) => {
      frozen = box;
      event.preventDefault();
      const move = (moved) => put(row, i, point(moved));
      const up = () => { removeEventListener("pointermove", move); removeEventListener("pointerup", up); frozen = null; draw(`${row} ${i}`); };
      addEventListener("pointermove", move);
      addEventListener("pointerup", up);
    });
    handle.addEventListener("keydown", (event) => {
      const step = text.dataset.system === "feet" ? 0.3048 : 0.25;
      const way = { ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, 1], ArrowDown: [0, -1] }[event.key];
      if (way) put(row, i, { x: corner.x + way[0] * step, y: corner.y + way[1] * step });
      else if (event.key === "Insert" && part.corners.length > 2) between(row, i);
      else if (event.key === "Delete" && part.corners.length > 3) without(row, i);
      else return;
      event.preventDefault();
    });
    handle.addEventListener("dblclick", () => { if (part.corners.length > 2) between(row, i); });
  }));
  ground.replaceChildren(svg);
  if (focus) ground.querySelector(`[data-at="${focus}"]`)?.focus();
}

function put(row, i, to) {
  const lines = read();
  lines[row].corners[i] = to;
  write(lines);
  says.textContent = `${lines[row].head}: ${words(to.x)} right, ${words(to.y)} up.`;
  draw(`${row} ${i}`);
}

function between(row, i) {
  const lines = read();
  const corners = lines[row].corners;
  const next = corners[(i + 1) % corners.length];
  corners.splice(i + 1, 0, { x: (corners[i].x + next.x) / 2, y: (corners[i].y + next.y) / 2 });
  write(lines);
  says.textContent = "A corner more.";
  draw(`${row} ${i + 1}`);
}

function without(row, i) {
  const lines = read();
  lines[row].corners.splice(i, 1);
  write(lines);
  says.textContent = "A corner less.";
  draw(`${row} ${Math.max(0, i - 1)}`);
}

if (editor && text) {
  editor.hidden = false;
  draw();
  text.addEventListener("input", () => draw());
  editor.querySelector("[data-add]").addEventListener("click", () => {
    const lines = read();
    const edge = lines.find((part) => part.kind === "edge")?.corners ?? [{ x: 0, y: 0 }];
    const x = Math.min(...edge.map((c) => c.x)) + 1, y = Math.min(...edge.map((c) => c.y)) + 1;
    const head = editor.querySelector("[data-add-kind]").value;
    lines.push({ head, kind: head.split(" ")[0], rest: "", corners: [[0, 0], [3, 0], [3, 3], [0, 3]].map(([u, v]) => ({ x: x + u, y: y + v })) });
    write(lines);
    says.textContent = "Added at the lower left; move its corners.";
    draw(`${lines.length - 1} 0`);
  });
}
