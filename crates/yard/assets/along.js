// Registers the worker that keeps pages for out of reach, and has it take them along anew now and then.
// A worker needs https, or the computer itself; over plain http everything else works while in reach.
const { job = "", who = "" } = document.body.dataset;
const MINUTES = 3 * 60 * 1000;

async function tell(what) {
  const { active } = await navigator.serviceWorker.ready;
  active.postMessage(what);
}

export async function takeAlong() {
  // Whoever is shown the way in has left, or was shut out: nothing of the job stays readable.
  if (location.pathname === "/join") try { sessionStorage.clear(); } catch { /* a browser that keeps nothing for pages */ }
  if (!("serviceWorker" in navigator)) return;
  if (location.pathname === "/join") {
    if (await navigator.serviceWorker.getRegistration("/")) tell("forget");
    return;
  }
  if (!job) return;
  try {
    await navigator.serviceWorker.register("/worker.js", { scope: "/", updateViaCache: "none" });
  } catch {
    // Out of reach, or a certificate that this phone does not trust: the worker that is there, if any, goes on.
  }
  // Once someone else holds the phone, nothing stays that was made out to the one before.
  const take = (now) => tell({ holder: encodeURIComponent(`${job} ${who}`), now });
  if (document.querySelector("[data-as-it-was]").hidden) take(false);
  setInterval(() => { if (!document.hidden) take(false); }, MINUTES);
  document.addEventListener("in-reach-again", () => take(true));
}
