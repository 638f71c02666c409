// Before the driver leaves: the count against the bill, and the words for the receipt, made as they are filled in.
// Without this file the yard computer makes them when it is asked to.
import * as keeping from "./keeping.js";
import { lacking, receiptNote, troubles } from "./receipt.js";

const gate = document.querySelector("[data-gate]");
const data = JSON.parse(gate.dataset.words);
const form = gate.querySelector("#hand-over");
const billed = gate.querySelector("[data-billed]");
const { units, note, seal, seal_state: sealState, on, time } = form.elements;
const rows = form.querySelector("[data-rows]");

const number = (field) => (/^\d{1,7}$/.test(field.value.trim()) ? Number(field.value) : null);

/** What is filled in of a row; one with nothing but its kind says nothing. */
function read(row) {
  const field = (name) => row.querySelector(`[name$="-${name}"]`);
  const text = (name) => field(name).value.trim();
  const says = ["of", "billed", "came", "harmed", "harm", "place"].some((name) => text(name) !== "");
  return says && { unit: text("unit"), of: text("of"), billed: number(field("billed")), came: number(field("came")), harmed: number(field("harmed")) ?? 0, harm: text("harm"), place: text("place") };
}

const filled = () => Array.from(rows.querySelectorAll("[data-row]"), read).filter(Boolean);

/** The words of the rows go into the field as long as nobody has written there. */
let made = "";

function make() {
  const seen = filled();
  const now = receiptNote(seen, number(units), number(billed), { number: seal.value.trim(), state: sealState.value }, data);
  const wrong = seen.length > 0 || (number(units) !== null && number(billed) !== null && number(units) !== number(billed));
  const words = wrong ? now : "";
  if (note.value === made) note.value = words;
  made = words;
  list("[data-lacking]", seen.flatMap((row) => lacking(row, data)));
  return now;
}

function list(css, sentences) {
  const place = gate.querySelector(css);
  place.replaceChildren(...sentences.map((sentence) => Object.assign(document.createElement("li"), { textContent: sentence })));
}

function check() {
  const ul = gate.querySelector("[data-troubles]");
  const said = troubles(note.value, data);
  const shown = document.createElement("ul");
  shown.className = "troubles";
  shown.append(...said.map((sentence) => Object.assign(document.createElement("li"), { textContent: sentence })));
  ul.replaceChildren(...(said.length ? [shown] : []));
}

/** The count against the bill: the shapes are those that the yard computer draws. */
function against() {
  const [n, bill] = [number(units), number(billed)];
  const place = gate.querySelector("[data-against]");
  let [tone, big, says] = ["open", "", "Not counted yet"];
  if (n === null && bill !== null) says = `The bill says ${bill}`;
  else if (n !== null && bill === null) [big, says] = [String(n), "off the truck; what does the bill say?"];
  else if (n !== null) {
    big = `${n} of ${bill}`;
    if (n < bill) [tone, says] = ["short", `${bill - n} short`];
    else if (n > bill) [tone, says] = ["over", `${n - bill} over`];
    else [tone, says] = ["good", "as the bill says"];
  }
  const shape = gate.querySelector(`template[data-tone="${tone}"]`).content.cloneNode(true);
  shape.querySelector(".state > span").textContent = says;
  const numeral = Object.assign(document.createElement("span"), { className: "n", textContent: big });
  place.replaceChildren(...(big ? [numeral] : []), shape);
}

function all() {
  against();
  make();
  check();
}

function addRow() {
  const at = rows.querySelectorAll("[data-row]").length + 1;
  const row = gate.querySelector("[data-row-empty]").content.cloneNode(true);
  for (const named of row.querySelectorAll("[id]")) {
    named.id = named.id.replace("r0", `r${at}`);
    named.name = named.name.replace("r0", `r${at}`);
  }
  for (const label of row.querySelectorAll("label")) label.htmlFor = label.htmlFor.replace("r0", `r${at}`);
  row.querySelector("[data-row-number]").textContent = String(at);
  rows.append(row);
  more.hidden = at >= Number(rows.dataset.rows);
}

/** Over plain http a browser gives no clipboard to a page; what is selected can still be copied. */
async function copy() {
  const said = gate.querySelector("[data-copied]");
  try {
    await navigator.clipboard.writeText(note.value);
  } catch {
    note.select();
    if (!document.execCommand("copy")) { said.textContent = "Press long on the words to copy them."; return; }
  }
  said.textContent = "Copied.";
}

const more = gate.querySelector("[data-more-rows]");
more.hidden = false;
more.addEventListener("click", () => { addRow(); rows.lastElementChild.querySelector("input").focus(); });
const copying = gate.querySelector("[data-copy]");
copying.hidden = false;
copying.addEventListener("click", copy);
for (const step of form.querySelectorAll("[data-step]")) {
  step.hidden = false;
  step.addEventListener("click", () => { units.value = String(Math.max(0, (number(units) ?? 0) + Number(step.dataset.step))); all(); keepDraft(); });
}
// The words are made here; `phone.js` is not to keep the form for that.
form.addEventListener("submit", (event) => {
  if (event.submitter?.name !== "make") return;
  event.preventDefault();
  note.value = make();
  made = note.value;
  check();
});
// What is filled in stays while somebody looks at the photos, as long as this tab is open and nobody has kept another
// hand-over meanwhile.
const draft = `tailgate ${document.body.dataset.job} ${gate.dataset.gate}`;
const forms = [gate.querySelector("#freight"), form];

function keepDraft() {
  const filledIn = forms.map((one) => [...new FormData(one)].filter(([name]) => !["id", "shipment"].includes(name)));
  try { sessionStorage.setItem(draft, JSON.stringify({ of: gate.dataset.kept, made, filledIn })); } catch { /* no room, or not allowed */ }
}

function takeUpDraft() {
  let found = null;
  try { found = JSON.parse(sessionStorage.getItem(draft)); } catch { /* not allowed */ }
  if (!found || found.of !== gate.dataset.kept || location.search.includes("make=")) return;
  found.filledIn.forEach((fields, i) => {
    for (const [name, value] of fields) {
      while (/^r\d+-/.test(name) && !forms[i].elements[name] && !more.hidden) addRow();
      if (forms[i].elements[name]) forms[i].elements[name].value = value;
    }
  });
  made = found.made;
}

gate.addEventListener("input", () => { all(); keepDraft(); });
const freightKept = gate.querySelector("[data-freight-kept]");

/** A freight bill that was filled in and has not been kept goes along with the hand-over. */
function keepFreight() {
  const [freight] = forms;
  const fields = [...freight.elements].filter((field) => field.name && field.type !== "hidden");
  const was = (field) => field.defaultValue ?? [...field.options].find((option) => option.defaultSelected)?.value ?? field.options[0].value;
  if (fields.every((field) => field.value === was(field))) return;
  const { job, who } = document.body.dataset;
  const filledIn = new FormData(freight);
  const id = keeping.freshId();
  filledIn.set("id", id);
  const says = ["carrier", "bill", "units"].map((name) => filledIn.get(name)).filter(Boolean).join(" · ");
  // `phone.js` keeps the hand-over after it, and sends both.
  keeping.keep({ id, path: "/freight", multipart: false, fields: [...filledIn.entries()], at: Date.now(), who, job, what: freight.dataset.keep, says, tries: 0 })
    .catch(() => { freightKept.textContent = "The freight bill could not be kept on this phone. Keep it by its own button."; freightKept.scrollIntoView({ block: "center" }); });
}

form.addEventListener("submit", ({ submitter }) => { if (submitter?.name !== "make") keepFreight(); });
gate.addEventListener("submit", ({ submitter }) => { if (submitter?.name !== "make") try { sessionStorage.removeItem(draft); } catch { /* not allowed */ } });
form.addEventListener("reset", () => setTimeout(() => { made = ""; all(); }));

// What became of it is said above the form, and the button that sends it is below.
new MutationObserver((changes) => {
  const said = changes.map(({ target, addedNodes }) => [target, ...addedNodes].find((node) => node.dataset?.kept === "" && node !== gate)).find(Boolean);
  said?.scrollIntoView({ block: "center" });
}).observe(gate, { childList: true, subtree: true });

/** Nothing that was said of one shipment is said of another: each field is empty, and is so from the start. */
function empty(one) {
  for (const field of one.elements) {
    if (!field.name || field.type === "hidden" || field === on || field === time) continue;
    if (field.options) {
      for (const option of field.options) option.defaultSelected = false;
      field.selectedIndex = 0;
      field.options[0].defaultSelected = true;
    } else if (["radio", "checkbox"].includes(field.type)) field.checked = field.defaultChecked = false;
    else if (field.tagName !== "BUTTON") field.value = field.defaultValue = "";
  }
}

// A copy from out of reach was taken along before: the day and the time are those of now, until somebody says others.
const two = (n) => String(n).padStart(2, "0");
const now = new Date();
if (document.querySelector("[data-as-it-was]:not([hidden])")) {
  if (on.dataset.today !== undefined) on.value = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
  if (time.dataset.now !== undefined) time.value = `${two(now.getHours())}:${two(now.getMinutes())}`;
  // The copy may be that of another shipment, or of none.
  const asked = new URLSearchParams(location.search).get("shipment");
  if (asked && asked !== gate.dataset.gate) {
    for (const field of gate.querySelectorAll("form[data-keep] [name=shipment]")) {
      field.value = asked;
      field.form.dataset.keep = field.form.dataset.keep.replace(gate.dataset.gate, asked);
    }
    gate.querySelector("[data-which]").textContent = asked;
    gate.querySelector("#kept")?.remove();
    gate.querySelectorAll("[data-of-one]").forEach((part) => part.remove());
    forms.forEach(empty);
    if (on.dataset.today === undefined) on.value = `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;
    if (time.dataset.now === undefined) time.value = `${two(now.getHours())}:${two(now.getMinutes())}`;
  }
}
takeUpDraft();
all();
