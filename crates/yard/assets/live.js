// What others count shows here at once: the yard computer says that something changed, the page is fetched anew, and
// the parts marked `data-live` take the place of those shown. What is typed and what has the focus stays.
import * as sending from "./sending.js";

const { job = "", upto = "0" } = document.body.dataset;
const said = document.querySelector("[data-live-said]");
/** Without a stream the page is asked for this often, in milliseconds. */
const ASK = 10000;
/** A stream that says nothing for so long is dead; it says that it is there every 10 s. */
const SILENCE = 25000;

/** When many count at once, a page is fetched no more often than with this between, in milliseconds. */
const PAUSE = 400;

let stream = null;
let alarm;
let asking;
let shown = Number(upto);
let fetching = null;
let once = false;

function listen() {
  if (stream || document.hidden) return;
  stream = new EventSource("/live");
  stream.addEventListener("upto", (event) => {
    clearInterval(asking);
    asking = undefined;
    awake();
    here();
    const now = Number(event.data);
    if (now !== shown || stale()) refresh(now);
  });
  stream.addEventListener("error", lost);
  awake();
}

/** The stream broke off, or has fallen silent: from now on the page asks. */
function lost() {
  stop();
  asking ??= setInterval(ask, ASK);
  refresh(shown);
}

/** The yard computer was found: what waits goes to it, and pages are taken along anew. */
function here() {
  const before = sending.reach;
  if (before === "here") return;
  sending.found("here");
  if (before === "unknown") return;
  sending.resume();
  document.dispatchEvent(new Event("in-reach-again"));
}

function awake() {
  clearTimeout(alarm);
  alarm = setTimeout(lost, SILENCE);
}

function stop() {
  clearTimeout(alarm);
  stream?.close();
  stream = null;
}

/** Without a stream: fetch the page, and try for a stream again. */
async function ask() {
  if (document.hidden) return;
  await refresh(shown);
  listen();
}

/** Whether this page is a copy, and has not been told yet that the yard computer is back. */
const stale = () => document.querySelector("[data-as-it-was]:not([hidden])")?.childElementCount === 0;

/** Fetches the page once at a time; what changes meanwhile is fetched after. */
async function refresh(now) {
  if (fetching) { once = true; return fetching; }
  fetching = bring(now).then((how) => (how === "here" ? here() : sending.found(how)), () => sending.found("away"));
  await fetching;
  if (once) await new Promise((resolve) => { setTimeout(resolve, PAUSE); });
  fetching = null;
  if (once) { once = false; await refresh(shown); }
}

/** Fetches the page and puts its parts in place; how the yard computer was found. */
async function bring(now) {
  const answer = await fetch(location.pathname + location.search, { headers: { accept: "text/html" }, redirect: "manual", signal: AbortSignal.timeout?.(10000) });
  // Whoever is no longer known is shown the way in.
  if (answer.type === "opaqueredirect") return "stranger";
  // Our own refusal is an answer too: the yard is here, and this page has nothing new.
  if (answer.status >= 400 && answer.status < 500) return "here";
  if (!answer.ok) throw new Error(answer.statusText);
  const page = new DOMParser().parseFromString(await answer.text(), "text/html");
  if (page.body.dataset.job !== job) return "elsewhere";
  shown = Math.max(now, Number(page.body.dataset.upto));
  document.body.dataset.upto = page.body.dataset.upto;
  const parts = document.querySelectorAll("[data-live]");
  if (stale()) inReach(parts.length > 0);
  const changed = [];
  for (const part of parts) {
    const other = page.querySelector(`[data-live="${CSS.escape(part.dataset.live)}"]`);
    if (other && swap(part, other)) changed.push(part);
  }
  // A count anew may take the place of whatever the page shows now.
  for (const field of document.querySelectorAll("input[name=knew]:not([data-as-it-was-read])")) field.value = page.body.dataset.upto;
  if (changed.length === 0) return "here";
  document.dispatchEvent(new Event("brought-up-to-date"));
  const speaks = changed.find((part) => part.dataset.liveSays !== undefined);
  const words = Array.from(speaks?.children ?? [], (child) => child.textContent.trim()).filter(Boolean).join(" ");
  said.textContent = words ? `Now: ${words}` : "This page has changed.";
  return "here";
}

/** A copy from out of reach: what is swapped is as it is now; a page that is not is to be loaded anew. */
function inReach(swapped) {
  const banner = document.querySelector("[data-as-it-was]");
  banner.hidden = swapped;
  const link = document.createElement("a");
  link.href = location.href;
  link.textContent = "Load this page anew";
  banner.replaceChildren("The yard computer is in reach again. ", link, ".");
}

/** Puts the new part in the place of the old one, unless it is the same, or someone is filling it in. */
function swap(part, other) {
  if (plain(part) === plain(other)) return false;
  const typed = Array.from(part.querySelectorAll("input:not([type=hidden]), textarea, select"));
  if (typed.some((field) => field === document.activeElement || field.value !== field.defaultValue)) return false;
  const focused = place(part, document.activeElement);
  const open = Array.from(part.querySelectorAll("details"), (details) => details.open);
  part.replaceChildren(...Array.from(other.childNodes, (node) => document.importNode(node, true)));
  part.querySelectorAll("details").forEach((details, i) => { details.open = open[i] ?? details.open; });
  if (focused) part.querySelectorAll(focused.kind)[focused.at]?.focus({ preventScroll: true });
  return true;
}

/** Its text and links; the ids of forms are new in each copy of a page. */
function plain(part) {
  const copy = part.cloneNode(true);
  copy.querySelectorAll("input[name=id], input[name=knew]").forEach((field) => field.remove());
  copy.querySelectorAll("[data-waits-for]").forEach((waits) => { waits.textContent = ""; });
  copy.querySelectorAll("details").forEach((details) => { details.open = false; });
  return copy.innerHTML;
}

function place(part, element) {
  if (!element || !part.contains(element)) return null;
  const kind = element.localName;
  return { kind, at: [...part.querySelectorAll(kind)].indexOf(element) };
}

if (job) {
  document.addEventListener("visibilitychange", () => { if (document.hidden) stop(); else listen(); });
  addEventListener("pagehide", stop);
  addEventListener("pageshow", listen);
  listen();
}
