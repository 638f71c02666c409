// What waits in this phone, in IndexedDB. When `keep` is done it is on the phone's disk, before anything is sent.
// A thing that waits is { n, id, path, multipart, fields, at, who, job, what, says, tries }; one that the yard computer
// refused has `why` too. `n` counts up, so the oldest comes first.

let opening = null;

function opened() {
  opening ??= new Promise((resolve, reject) => {
    const asked = indexedDB.open("tallyard", 1);
    asked.onupgradeneeded = () => {
      asked.result.createObjectStore("waiting", { keyPath: "n", autoIncrement: true });
      asked.result.createObjectStore("refused", { keyPath: "n", autoIncrement: true });
    };
    asked.onsuccess = () => {
      const base = asked.result;
      base.onclose = () => { opening = null; };
      base.onversionchange = () => { base.close(); opening = null; };
      resolve(base);
    };
    asked.onerror = () => { opening = null; reject(asked.error); };
  });
  return opening;
}

/** Runs `work` on both stores in one transaction; done when it is on disk. What `work` hands to `give` comes back. */
async function transact(mode, work) {
  const base = await opened();
  return new Promise((resolve, reject) => {
    let given;
    const both = base.transaction(["waiting", "refused"], mode, { durability: "strict" });
    both.oncomplete = () => resolve(given);
    both.onabort = () => reject(both.error);
    work(both.objectStore("waiting"), both.objectStore("refused"), (value) => { given = value; });
  });
}

export const keep = (item) => transact("readwrite", (waiting) => { waiting.add(item); });

/** All that waits and all that was refused, oldest first. */
export const all = () => transact("readonly", (waiting, refused, give) => {
  const found = {};
  give(found);
  waiting.getAll().onsuccess = (event) => { found.waiting = event.target.result; };
  refused.getAll().onsuccess = (event) => { found.refused = event.target.result; };
});

/** The oldest that waits of a job, noted as tried: from now on the yard computer may have it. */
export const oldest = (job) => transact("readwrite", (waiting, _, give) => {
  waiting.openCursor().onsuccess = (event) => {
    const cursor = event.target.result;
    if (!cursor) return;
    if (cursor.value.job !== job) { cursor.continue(); return; }
    const tried = { ...cursor.value, tries: cursor.value.tries + 1 };
    cursor.update(tried);
    give(tried);
  };
});

export const forget = (n) => transact("readwrite", (waiting) => { waiting.delete(n); });

/** Takes back what was never tried; whether it could be. */
export const takeBack = (n) => transact("readwrite", (waiting, _, give) => {
  waiting.get(n).onsuccess = (event) => {
    if (event.target.result?.tries !== 0) return;
    waiting.delete(n);
    give(true);
  };
});

export const refuse = (item, why) => transact("readwrite", (waiting, refused) => {
  waiting.delete(item.n);
  refused.put({ ...item, why });
});

export const putAway = (n) => transact("readwrite", (_, refused) => { refused.delete(n); });

/** Lets what was refused wait again, last of all and under a new id. */
export const again = (item, id) => transact("readwrite", (waiting, refused) => {
  const { n, why, ...rest } = item;
  refused.delete(n);
  waiting.add({ ...rest, id, tries: 0 });
});

/** A new event id: a UUID of version 7 (RFC 9562), 48 bits of time and 74 drawn at random. */
export function freshId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  const now = Date.now();
  for (let i = 0; i < 6; i += 1) bytes[i] = Math.floor(now / 2 ** (40 - 8 * i)) & 0xff;
  bytes[6] = (bytes[6] & 0x0f) | 0x70;
  bytes[8] = (bytes[8] & 0x3f) | 0x80;
  const hex = Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
  return hex.replace(/^(.{8})(.{4})(.{4})(.{4})/, "$1-$2-$3-$4-");
}
