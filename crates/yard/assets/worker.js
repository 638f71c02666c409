// Out of reach of the yard computer a page is as it was when it was last taken along, and says so. In reach nothing
// is taken from here but our own files. VERSION and ASSETS stand before this line; the server puts them there.
const FILES = `files ${VERSION}`;
const PAGES = "pages";
/** How long the yard computer may take before the copy is shown. */
const PATIENCE = 2500;
/** How long all pages together may take on their way. */
const LONGEST = 120000;
/** Pages are taken along once at a time: whoever asks meanwhile finds them there, and nothing is carried twice. */
let taking = Promise.resolve();

self.addEventListener("install", (event) => {
  event.waitUntil((async () => {
    const cache = await caches.open(FILES);
    // Those the page has fetched are in the browser's own store: nothing is carried twice.
    await cache.addAll(ASSETS);
    await self.skipWaiting();
  })());
});

self.addEventListener("activate", (event) => {
  event.waitUntil((async () => {
    for (const name of await caches.keys()) if (name !== FILES && name !== PAGES) await caches.delete(name);
    await self.clients.claim();
  })());
});

self.addEventListener("message", (event) => {
  if (event.data === "forget") event.waitUntil(caches.delete(PAGES));
  else {
    taking = taking.then(() => takeAlong(event.data)).catch(() => {});
    event.waitUntil(taking);
  }
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { pathname, search } = new URL(request.url);
  if (request.method !== "GET") {
    // Answers to forms are never kept. Leaving takes everything of the job with it.
    if (pathname === "/leave") event.waitUntil(caches.delete(PAGES));
    return;
  }
  if (pathname.startsWith("/assets/")) event.respondWith(file(request));
  // A bundle goes to the disk piece by piece; kept here for a copy, all of it would be in memory.
  else if (request.mode === "navigate" && pathname !== "/join" && !pathname.endsWith(".zip")) event.respondWith(page(event, pathname, search));
});

async function file(request) {
  const kept = await caches.match(request, { cacheName: FILES });
  if (kept) return kept;
  // A copy of a page may be older than our files; out of reach those of today have to do.
  const name = request.url.slice(request.url.lastIndexOf("/"));
  return fetch(request).catch(() => caches.match(ASSETS.find((path) => path.endsWith(name)), { cacheName: FILES }));
}

/** The page from the yard computer; when that takes too long, or is out of reach, the copy. */
async function page(event, path, search) {
  const asked = fetch(event.request);
  const late = new Promise((resolve) => { setTimeout(resolve, PATIENCE, null); });
  const answer = await Promise.race([asked.catch(() => null), late]);
  if (answer) {
    event.waitUntil(keep(event.request, path, answer.clone()));
    return answer;
  }
  // A page with a query of its own may have been taken along too; else the one without it has to do.
  const copy = (search && await copyOf(path + search)) || await copyOf(path);
  if (copy) {
    event.waitUntil(asked.then((late) => keep(event.request, path, late), () => {}));
    return copy;
  }
  return asked.catch(() => nothing());
}

async function keep(request, path, answer) {
  const kind = answer.headers.get("content-type") ?? "";
  // A page with a query says what was just done; that is not for later.
  if (!answer.ok || answer.redirected || !kind.startsWith("text/html") || new URL(request.url).search) return;
  await put(await caches.open(PAGES), path, await answer.text(), answer);
}

/** `from` is the answer that brought it, whose policy it keeps. `along` is the tag of the answer that a page came with; one that was visited has none. */
function put(cache, path, html, from, along = "", holder = "") {
  const policy = from.headers.get("content-security-policy");
  return cache.put(path, new Response(html, { headers: { taken: String(Date.now()), etag: along, holder, policy } }));
}

/** When a copy was last known to be as the yard computer has it. */
async function takenAt(copy) {
  const along = await caches.match("/take-along", { cacheName: PAGES });
  const etag = copy.headers.get("etag");
  return new Date(Number((etag && along?.headers.get("etag") === etag ? along : copy).headers.get("taken")));
}

async function copyOf(path) {
  const found = await caches.match(path, { cacheName: PAGES });
  if (!found) return null;
  const taken = await takenAt(found);
  const today = taken.toDateString() === new Date().toDateString();
  const day = today ? "" : `${taken.toLocaleDateString()}, `;
  const time = taken.toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", hourCycle: "h23" });
  const says = `Out of reach of the yard computer: this page is as it was at ${day}${time}.`;
  const html = (await found.text()).replace('<p class="note wait" data-as-it-was hidden></p>', `<p class="note wait" data-as-it-was role="status">${says}</p>`);
  return answer(html, 200, found.headers.get("policy"));
}

async function nothing() {
  const pages = await (await caches.open(PAGES)).keys();
  const links = pages.map((page) => new URL(page.url).pathname).filter((path) => path !== "/take-along");
  const list = links.map((path) => `<li><a class="show" href="${path}">${decodeURIComponent(path).replace(/[&<>"]/g, "")}</a></li>`);
  const style = ASSETS.find((path) => path.endsWith("style.css"));
  return answer(`<!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1">
    <title>Out of reach · Tallyard</title><link rel="stylesheet" href="${style}"></head><body><main><h1>Out of reach</h1>
    <p class="note wait">The yard computer is out of reach, and this page was not taken along. What waits in this phone stays in it.</p>
    ${list.length ? `<h2>Taken along</h2><ul>${list.join("")}</ul>` : ""}</main></body></html>`, 503, "default-src 'none'; style-src 'self'");
}

function answer(html, status, policy) {
  return new Response(html, { status, headers: { "content-type": "text/html; charset=utf-8", "content-security-policy": policy } });
}

/** All pages that are of use out of reach, in one answer; nothing comes when nothing has changed. Not asked for more
 *  than once a minute, unless `now`. */
async function takeAlong({ holder, now }) {
  let before = await caches.match("/take-along", { cacheName: PAGES });
  if (before && before.headers.get("holder") !== holder) {
    await caches.delete(PAGES);
    before = null;
  }
  const cache = await caches.open(PAGES);
  const checked = Number(before?.headers.get("taken") ?? 0);
  if (!now && Date.now() - checked < 60000) return;
  const headers = before ? { "if-none-match": before.headers.get("etag") } : {};
  const answer = await fetch("/take-along", { headers, redirect: "error", cache: "no-store", signal: AbortSignal.timeout?.(LONGEST) });
  if (answer.status !== 200 && answer.status !== 304) return;
  const etag = answer.headers.get("etag");
  if (answer.status === 200) {
    for (const [path, html] of Object.entries(await answer.json())) await put(cache, path, html, answer, etag);
  }
  await put(cache, "/take-along", "", answer, etag, holder);
}
