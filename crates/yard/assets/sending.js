// Sends what waits in this phone, oldest first and one at a time. What is sent twice is one event, since its id was
// made before it was first sent: so it is sent again whenever it is not known to have arrived.
import * as keeping from "./keeping.js";

/** Events: "changed" when something was sent, refused, or the reach changed. */
export const news = new EventTarget();

/** How the yard computer was last found: "unknown", "here", "away", "stranger" (it does not know this phone), or
 *  "elsewhere" (it has another job open). */
export let reach = "unknown";

const job = document.body.dataset.job ?? "";
const outcomes = new Map();
let sending = null;
let next = null;
let wait = 1000;
let timer;

export function found(how) {
  if (reach === how) return;
  reach = how;
  news.dispatchEvent(new Event("changed"));
}

/** Resolves with { see } or { why } once this is kept or refused. */
export function outcome(id) {
  return new Promise((resolve) => { outcomes.set(id, resolve); });
}

/** Sends all that waits; resolves when all is sent or nothing more can be. While sending is under way, one more round
 *  follows it, for what it may have looked past. */
export function send() {
  clearTimeout(timer);
  if (sending) {
    next ??= sending.then(() => { next = null; return send(); });
    return next;
  }
  sending = alone().catch(() => {}).finally(() => { sending = null; });
  return sending;
}

/** Of several tabs one sends at a time, where the browser has locks; without, all may, which adds nothing. */
function alone() {
  return navigator.locks ? navigator.locks.request("tallyard sends", sendAll) : sendAll();
}

async function sendAll() {
  // A page outside the job, such as the one for joining, sends nothing.
  while (job) {
    const item = await keeping.oldest(job);
    if (!item) return;
    const answer = await sendOne(item);
    if (answer.kept) await keeping.forget(item.n);
    else if (answer.why) await keeping.refuse(item, answer.why);
    else {
      found(answer.reach);
      later();
      return;
    }
    wait = 1000;
    outcomes.get(item.id)?.(answer);
    outcomes.delete(item.id);
    reach = "here";
    news.dispatchEvent(new Event("changed"));
  }
}

function later() {
  clearTimeout(timer);
  timer = setTimeout(send, wait);
  wait = Math.min(30000, 2 * wait);
}

async function sendOne(item) {
  const body = item.multipart ? new FormData() : new URLSearchParams();
  for (const [name, value] of item.fields) body.append(name, value);
  const size = item.fields.reduce((sum, [, value]) => sum + (value.size ?? value.length), 0);
  try {
    const answer = await fetch(item.path, {
      method: "POST",
      body,
      redirect: "manual",
      headers: {
        "tallyard-id": item.id,
        "tallyard-job": item.job,
        "tallyard-at": String(item.at),
        "tallyard-who": encodeURIComponent(item.who),
      },
      // 10 s, and what a picture takes at 20 kB a second.
      signal: AbortSignal.timeout?.(10000 + size / 20),
    });
    // Only an answer that repeats the id is the yard computer's own: another network's front door answers too.
    if (answer.headers.get("tallyard-kept") === item.id) return { kept: true, see: answer.headers.get("tallyard-see") };
    if (answer.headers.get("tallyard-refused") === item.id) return { why: words(await answer.text()) };
    if (answer.status === 403) return { reach: "stranger" };
    return { reach: answer.status === 409 ? "elsewhere" : "away" };
  } catch {
    return { reach: "away" };
  }
}

/** What a page that refuses says, without the advice that goes with a page. */
function words(page) {
  const told = new DOMParser().parseFromString(page, "text/html").querySelector("main .note");
  const lines = Array.from(told?.querySelectorAll("p") ?? [], (line) => line.textContent.trim());
  return lines.join(" ") || "The yard computer could not take it.";
}

export function resume() {
  wait = 1000;
  return send();
}

addEventListener("online", resume);
document.addEventListener("visibilitychange", () => { if (!document.hidden) resume(); });
