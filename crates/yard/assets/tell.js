// "Which part is this?" out of reach of the yard computer. In reach every answer is the yard computer's; here the same
// is answered in place, from the tables in the page that was taken along, and put where the yard computer puts it.
import { AskingKit } from "./asking.js";
import { caliper, either, mass, percent, readLength, readMass, tape } from "./saying.js";
import * as sending from "./sending.js";

const data = document.querySelector("#tell-tables");
const place = document.querySelector("[data-tell]");
const most = Number(place?.dataset.tell);
const forms = Array.from(document.querySelectorAll("template[data-ask]"));
let made = null;
/** Made when it is first asked for: in reach it never is. */
const kit = () => { made ??= new AskingKit(JSON.parse(data.textContent)); return made; };
const [status, rest] = place ? [place.querySelector(".answer"), place.querySelector(":scope > details:last-of-type")] : [];
const begins = "One piece in hand. Say what you see; each answer leads to the next question, until it is told.";

/** The page is a copy, or the yard computer was last found to be away. */
function away() {
  return document.querySelector("[data-as-it-was]")?.hidden === false || sending.reach === "away";
}

function element(name, attributes = {}, ...content) {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...content);
  return made;
}

const address = (seen, pile, more = {}) => {
  const query = new URLSearchParams({ ...(seen.length && { seen: JSON.stringify(seen) }), ...(pile && { pile }), ...more });
  return query.size ? `/tell?${query}` : "/tell";
};

/** What cannot be taken, with what would be right. */
class Refusal extends Error {}

/** The readings so far, with what a form adds or a link takes out; an error says what would be right. */
function readings(query) {
  const field = (name) => query.get(name)?.trim() ?? "";
  const seen = field("seen") ? JSON.parse(field("seen")) : [];
  const without = field("without");
  if (/^\d+$/.test(without)) seen.splice(Number(without), 1);
  if (field("add")) seen.push(JSON.parse(field("add")));
  if (field("size")) seen.push(measured(field("size"), field("tool"), field("value")));
  if (seen.length > most) throw new Refusal("That is more than one piece can be read. Begin anew with the next piece.");
  return seen;
}

function measured(size, tool, value) {
  if (size === "holes") {
    if (!/^\d{1,9}$/.test(value)) throw new Refusal("The number of holes must be a whole number.");
    return { read: "holes", count: Number(value) };
  }
  if (size === "mass") {
    const micrograms = readMass(value, kit().inch);
    if (micrograms === null) throw new Refusal(`The mass was not read. Write it such as ${kit().inch ? "12.4 lb or 8 oz" : "5.62 kg or 240 g"}.`);
    const scale = kit().ways.find((way) => way.of === null);
    return { read: "mass", micrograms, step_micrograms: Math.round((scale?.step ?? 0.01) * 1e9) };
  }
  const nanometres = readLength(value, kit().inch);
  if (nanometres === null) throw new Refusal(`The size was not read. Write it such as ${kit().inch ? "10 ft 6 1/2 in" : "3213 mm"}.`);
  const [of, name] = [size.replace("-", "_"), tool.replace("-", "_")];
  const way = kit().ways.find((way) => way.of === of && way.with.tool === name);
  if (!way) throw new Refusal("No part of this order has such a size that this tool could tell. Measure something else.");
  return { read: "size", of, nanometres, with: way.with };
}

/** A reading in words, as the page's own buttons and lists call it. */
function inWords(reading) {
  const pressed = JSON.stringify(reading);
  const buttons = [...forms.map((form) => form.content), rest].flatMap((part) => Array.from(part.querySelectorAll("button[name=add]")));
  const button = buttons.find((button) => button.value === pressed)?.textContent ?? "something else";
  const option = (list, value) => rest.querySelector(`#${list} option[value="${CSS.escape(value.replace("_", "-"))}"]`)?.textContent ?? value;
  switch (reading.read) {
    case "looks": return `looks like: ${reading.like}`;
    case "end": return `${reading.end === "one" ? "one end" : "the other end"}: ${button.toLowerCase()}`;
    case "coating": return `coating: ${button.toLowerCase()}`;
    case "holes": return `${reading.count} holes`;
    case "mass": return `mass ${mass(reading.micrograms, kit().inch, 2)}`;
    case "size": {
      const { tool } = reading.with;
      const shows = ["caliper", "gauge_plate"].includes(tool) ? caliper : tape;
      return `${option("any-size", reading.of).toLowerCase()}: ${shows(reading.nanometres, kit().inch)}, by ${option("any-tool", tool)}`;
    }
    default: return button;
  }
}

/** A form of the page, made to carry what was read so far. */
function carrying(form, seen, pile) {
  form.querySelectorAll("input[name=seen], input[name=pile]").forEach((field) => field.remove());
  const carried = [seen.length && ["seen", JSON.stringify(seen)], pile && ["pile", pile]].filter(Boolean);
  form.prepend(...carried.map(([name, value]) => element("input", { type: "hidden", name, value })));
  return form;
}

function show(seen, pile) {
  const answer = kit().answer(seen);
  const next = kit().next(seen);
  place.querySelectorAll(":scope > :not(h1, .answer, template, script)").forEach((part) => part !== rest && part.remove());
  if (pile) status.before(element("p", {}, "A piece of pile ", element("strong", {}, pile)));
  status.replaceChildren(...(seen.length ? [element("p", { class: "big" }, sentence(answer.words)), ...whatItIs(answer)] : [element("p", {}, begins)]));
  rest.before(...oddities(answer, seen, pile), ...whatNow(answer, seen, pile), ...nextReading(next, answer, seen, pile), ...readSoFar(seen, pile), likeliest(answer));
  rest.querySelectorAll("form").forEach((form) => carrying(form, seen, pile));
  rest.open = false;
}

/** Words with a full stop, unless they end with a mark of their own. */
const sentence = (words) => (/[.?!]$/.test(words) ? words : `${words}.`);

function whatItIs({ decided, candidates, odd }) {
  if (!decided || decided === "none") return [];
  const noun = candidates[0].noun;
  const again = odd.length ? ". One reading does not fit it: read that again first" : "";
  return [element("p", {}, `${noun.charAt(0).toUpperCase()}${noun.slice(1)}${again}.`)];
}

function oddities(answer, seen, pile) {
  return answer.odd.map(({ reading, words }) => element("div", { class: "note wait" },
    element("p", {}, element("strong", {}, "Look again: "), `${inWords(seen[reading])} does not fit; ${words}.`),
    element("p", {}, element("a", { class: "button", href: address(seen, pile, { without: reading }) }, "Take this reading out"))));
}

/** Count it, and keep what was read: the form waits in the phone as any other. */
function whatNow({ decided, odd }, seen, pile) {
  if (!decided) return [];
  const count = (mark) => element("a", { class: odd.length ? "button" : "button main", href: `/count/${encodeURIComponent(mark)}${pile ? `?pile=${encodeURIComponent(pile)}` : ""}` }, `Count ${mark}`);
  const first = decided === "none"
    ? element("div", { class: "note short" }, element("p", {}, "Lay it apart, and keep what was read: it says what came that nobody ordered."))
    : element("p", { class: "row" }, ...decided.map(count));
  const fields = { id: "", seen: JSON.stringify(seen), pile, mark: decided !== "none" && decided.length === 1 ? decided[0] : "" };
  const form = element("form", { method: "post", action: "/measured", "data-keep": "What was read of a piece" },
    ...Object.entries(fields).map(([name, value]) => element("input", { type: "hidden", name, value })),
    element("p", {}, element("button", { type: "submit" }, "Keep what was read"), " ", element("a", { class: "button", href: "/tell" }, "Next piece")));
  return [first, form];
}

function nextReading(next, answer, seen, pile) {
  if (next) {
    const form = forms[next.number].content.firstElementChild.cloneNode(true);
    return [element("section", { class: "next-reading", "aria-labelledby": "next" },
      element("h2", { id: "next" }, sentence(next.words)), carrying(form, seen, pile),
      element("p", { class: "soft" }, `About ${next.seconds.toFixed(0)} seconds.`))];
  }
  if (answer.decided || !seen.length) return [];
  const words = "Nothing more that can be read here would tell it. Lay the piece beside one of each, or ask the sender.";
  return [element("div", { class: "note wait" }, element("p", {}, words))];
}

function readSoFar(seen, pile) {
  if (!seen.length) return [];
  const line = (reading, i) => element("li", {}, element("span", {}, inWords(reading)),
    element("a", { class: "button", href: address(seen, pile, { without: i }) }, "Take out"));
  return [element("h2", {}, "Read so far"), element("ul", { class: "log" }, ...seen.map(line)),
    element("p", {}, element("a", { class: "button", href: "/tell" }, "Begin anew"))];
}

function likeliest({ candidates, none }) {
  const row = (p, ...name) => element("tr", {}, element("th", { scope: "row" }, ...name), element("td", { class: "num" }, percent(p)));
  const rows = candidates.slice(0, 8).filter((c) => c.chance > 0.001)
    .map((c) => row(c.chance, element("span", { class: "mark" }, either(c.marks)), ` ${c.noun}`));
  return element("details", {}, element("summary", {}, "How likely each is"),
    element("table", {}, element("caption", {}, "What the readings leave, the likeliest first"),
      element("tbody", {}, ...rows, row(none, "None of this order"))),
    element("p", { class: "soft" }, "Out of reach this phone reckons it, as the yard computer would."));
}

let shown = "";

/** Shows what an address asks for; what cannot be read leaves the page as it is, and says why. */
function go(query, before) {
  place.querySelector(":scope > [data-why]")?.remove();
  try {
    const [seen, pile] = [readings(query), query.get("pile")?.trim() ?? ""];
    show(seen, pile);
    shown = address(seen, pile);
    if (before) history.pushState(null, "", shown);
    else history.replaceState(null, "", shown);
    if (before) scrollTo(0, 0);
  } catch (error) {
    const says = error instanceof Refusal ? error.message : "What was read before could not be read again. Begin anew.";
    status.after(element("div", { class: "note short", role: "alert", "data-why": "" }, element("p", {}, says)));
    place.querySelector("[data-why]").scrollIntoView({ block: "center" });
  }
}

if (data) {
  document.addEventListener("submit", (event) => {
    const form = event.target;
    if (event.defaultPrevented || form.method !== "get" || form.getAttribute("action") !== "/tell" || !away()) return;
    event.preventDefault();
    go(new URLSearchParams(new FormData(form, event.submitter)), true);
  });
  document.addEventListener("click", (event) => {
    const link = event.target.closest?.("[data-tell] a[href]");
    const to = link && new URL(link.href);
    if (!to || to.pathname !== "/tell" || event.defaultPrevented || event.ctrlKey || event.metaKey || event.shiftKey || !away()) return;
    event.preventDefault();
    go(to.searchParams, true);
  });
  // Back to what was answered in place; what the yard computer answered is a page of its own.
  addEventListener("popstate", () => { if (shown && shown !== location.pathname + location.search) go(new URLSearchParams(location.search), false); });
  // The copy of the page stands for whatever its address asks for.
  if (away() && location.search) go(new URLSearchParams(location.search), false);
}
