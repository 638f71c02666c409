// Every page of the job: a form marked `data-keep` is kept in this phone before it is sent, and what waits is said at
// the top. Without this file a form is just a form.
import * as keeping from "./keeping.js";
import * as sending from "./sending.js";
import { takeAlong } from "./along.js";
import "./live.js";

const { job = "", who = "" } = document.body.dataset;
const shown = document.querySelector("[data-waiting]");
const tabs = "BroadcastChannel" in window ? new BroadcastChannel("tallyard") : null;

// A part that was swapped (`live.js`) says again what waits beside it.
document.addEventListener("brought-up-to-date", () => show());

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (event.defaultPrevented || !job || form.dataset.keep === undefined) return;
  const filled = new FormData(form, event.submitter);
  event.preventDefault();
  hold(form, filled);
});

// A page that the browser brings back as it was left can be used again.
addEventListener("pageshow", () => document.querySelectorAll("form[data-keep]").forEach(free));

/** Lets go of the buttons that were held while a form was sent, and of what was said meanwhile. */
function free(form) {
  form.querySelectorAll("button[data-held]").forEach((button) => {
    button.disabled = false;
    delete button.dataset.held;
  });
  sayMeanwhile(form, "");
}

/** Says what the yard computer does, beside the button. */
function sayMeanwhile(form, words) {
  const says = form.querySelector("[data-meanwhile-says]");
  if (says) says.textContent = words;
}

async function hold(form, filled) {
  const id = keeping.freshId();
  // The page may be a copy that was shown before: its own id is never used.
  filled.set("id", id);
  const item = {
    id,
    path: form.getAttribute("action"),
    multipart: form.enctype === "multipart/form-data",
    fields: [...filled.entries()],
    at: Date.now(),
    who,
    job,
    what: form.dataset.keep || document.querySelector("h1")?.textContent || "",
    says: spoken(form),
    tries: 0,
  };
  form.querySelectorAll("button:enabled").forEach((button) => {
    button.disabled = true;
    button.dataset.held = "";
  });
  if (form.dataset.meanwhile && sending.reach !== "away") sayMeanwhile(form, form.dataset.meanwhile);
  try {
    await keeping.keep(item);
  } catch {
    // A browser that keeps nothing for pages, or has no room: send it as any form is sent.
    free(form);
    if (form.elements.id) form.elements.id.value = id;
    form.submit();
    return;
  }
  const outcome = sending.outcome(id);
  const tried = sending.send().then(() => ({}));
  // Out of reach nobody is to wait for each count.
  const patience = new Promise((resolve) => { setTimeout(resolve, sending.reach === "away" ? 250 : 3000, {}); });
  let first = await Promise.race([outcome, tried, patience]);
  // What takes the yard computer some time is waited for while it is in reach; what it does is said beside the button.
  if (form.dataset.meanwhile && !first.see && !first.why && sending.reach !== "away") {
    first = await Promise.race([outcome, tried]);
  }
  const { see, why } = first;
  // The buttons stay as they are until the next page is there: a second tap is not a second count.
  if (see) { turnTo(see); return; }
  free(form);
  if (!why) form.reset();
  // The browser is asked not to make room by throwing away what waits.
  navigator.storage?.persist?.();
  await show();
  // Said where it is seen, and at the top for as long as it waits.
  const said = why ? `It was not taken: ${why}` : "Kept in this phone. It waits for the yard computer.";
  tell(form, said, why ? "short" : "wait");
}

/** Shows the page after a form. Where only the part behind the "#" is another, the browser would stay on the page as it is. */
function turnTo(see) {
  const to = new URL(see, location.href);
  const stays = to.hash && to.pathname === location.pathname && to.search === location.search;
  location.assign(to);
  if (stays) location.reload();
}

function tell(form, words, tone) {
  let note = form.parentElement.querySelector(":scope > [data-kept]");
  if (!note) {
    note = document.createElement("p");
    note.dataset.kept = "";
    note.setAttribute("role", "status");
    form.before(note);
  }
  note.className = `note ${tone}`;
  note.textContent = words;
}

/** What was filled in, as its labels call it. */
function spoken(form) {
  const parts = [];
  for (const field of form.elements) {
    if (!field.name || !field.value || ["hidden", "submit", "button"].includes(field.type)) continue;
    const choice = ["radio", "checkbox"].includes(field.type);
    if (choice && !field.checked) continue;
    const label = field.labels?.[0]?.textContent.trim() ?? field.name;
    const value = field.type === "file" ? Array.from(field.files, (file) => file.name).join(", ") : field.value;
    parts.push(choice ? label : `${label} ${value}`);
  }
  return parts.join(" · ");
}

/** Shows what waits and what was refused, at the top and beside each sum that it will be added to. */
async function show() {
  const { waiting, refused } = await keeping.all().catch(() => ({ waiting: [], refused: [] }));
  const mine = waiting.filter((item) => !job || item.job === job);
  const takenBack = new Set(mine.map(takesBack));
  shown.hidden = waiting.length + refused.length === 0;
  shown.querySelector("[data-waiting-says]").textContent = inWords(mine.length, waiting.length - mine.length);
  shown.querySelector("[data-waiting-join]").hidden = sending.reach !== "stranger" || mine.length === 0;
  shown.querySelector("[data-waiting-held]").hidden = waiting.length === 0;
  shown.querySelector("[data-waiting-list]").replaceChildren(...waiting.map(waitingRow));
  shown.querySelector("[data-refused]").hidden = refused.length === 0;
  shown.querySelector("[data-refused-list]").replaceChildren(...refused.map(refusedRow));
  shown.dataset.waiting = String(waiting.length);
  if (mine.length === 0) document.querySelectorAll("[data-kept].wait").forEach((note) => note.remove());
  for (const place of document.querySelectorAll("[data-waits-for]")) {
    place.textContent = beside(mine.filter((item) => item.path === place.dataset.waitsFor && !takenBack.has(item.id)));
  }
}

function inWords(mine, others) {
  const says = [];
  const [wait, go] = mine === 1 ? ["1 waits", "It goes"] : [`${mine} wait`, "They go"];
  if (mine && sending.reach === "stranger") says.push(`${wait} in this phone, which the yard computer no longer knows. Join again. ${go} then.`);
  else if (mine && sending.reach === "elsewhere") says.push(`${wait} in this phone. The yard computer has another job open. ${go} when this job's yard is open.`);
  else if (mine) says.push(`${wait} in this phone. ${go} to the yard computer when it is in reach.`);
  if (others) says.push(`${others} seen at another job ${others === 1 ? "waits" : "wait"} for that job's yard.`);
  return says.join(" ");
}

/** What of this mark waits: counts are added; a count anew is said as one. A second look adds nothing, and what was
 *  counted by bundle, weight, length or photo is a number once the yard computer has it. */
function beside(items) {
  let more = 0;
  let anew = null;
  let others = 0;
  for (const { fields } of items) {
    const field = Object.fromEntries(fields);
    if (field.how === "again") continue;
    if (field.by && field.by !== "piece") { others += 1; continue; }
    const n = Number(field.quantity) || 0;
    if (field.how === "anew") anew = n;
    else if (anew === null) more += n;
    else anew += n;
  }
  const says = [];
  if (more) says.push(`and ${more} of yours waiting`);
  if (anew !== null) says.push(`and ${anew} of yours counted anew, waiting`);
  if (others) says.push(`and ${others} more ${others === 1 ? "count" : "counts"} of yours waiting`);
  return says.join(", ");
}

function row(item, buttons) {
  const line = document.createElement("li");
  const words = document.createElement("span");
  const what = document.createElement("strong");
  what.textContent = item.what;
  const at = new Date(item.at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  words.append(what, ` ${item.says} · ${item.who}, ${at}${item.why ? `. ${item.why}` : ""}`);
  line.append(words);
  for (const [label, act] of buttons) {
    const button = document.createElement("button");
    button.type = "button";
    button.textContent = label;
    button.setAttribute("aria-label", `${label}: ${item.what}`);
    button.addEventListener("click", async () => { button.disabled = true; await act(); changed(); });
    line.append(button);
  }
  return line;
}

function waitingRow(item) {
  return row(item, item.path === "/undo" ? [] : [["Take back", () => takeBack(item)]]);
}

/** The entry that a waiting one takes back. */
function takesBack({ path, fields }) {
  return path === "/undo" ? fields.find(([name]) => name === "event")?.[1] : undefined;
}

function refusedRow(item) {
  const retry = async () => { await keeping.again(item, keeping.freshId()); sending.resume(); };
  return row(item, [["Try again", retry], ["Put away", () => keeping.putAway(item.n)]]);
}

/** What was tried may have arrived, its answer lost: it is taken back as anything else is, by an event after it. */
async function takeBack(item) {
  if (await keeping.takeBack(item.n)) return;
  // A second tap takes nothing more back.
  const { waiting } = await keeping.all();
  if (waiting.some((other) => takesBack(other) === item.id)) return;
  const id = keeping.freshId();
  const fields = [["id", id], ["event", item.id], ["back", ""]];
  await keeping.keep({ id, path: "/undo", multipart: false, fields, at: Date.now(), who, job: item.job, what: "Take back", says: `${item.what}: ${item.says}`, tries: 0 });
  sending.send();
}

function changed() {
  show();
  tabs?.postMessage("changed");
}

let soon;
sending.news.addEventListener("changed", () => {
  // Not shown for the moment that a count in reach takes.
  clearTimeout(soon);
  soon = setTimeout(changed, 300);
});
if (tabs) tabs.onmessage = show;

show();
sending.resume();
takeAlong();
