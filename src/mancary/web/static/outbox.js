// Entries kept on this phone until the book has taken them. Each has an id made here, so however
// often it is sent it is written once; they go up in the order in which they were made.

const STORE = "entries";
const TAKES_MS = 8000;
const A_FILE_TAKES_MS = 120000;

/** @returns {Promise<IDBDatabase>} */
function opened() {
  return new Promise((done, failed) => {
    const asked = indexedDB.open("mancary-outbox", 1);
    asked.onupgradeneeded = () => asked.result.createObjectStore(STORE, { keyPath: "number", autoIncrement: true });
    asked.onsuccess = () => done(asked.result);
    asked.onerror = () => failed(asked.error);
  });
}

/** One step on the store, finished when it is on the phone's disk. */
async function step(mode, act) {
  const db = await opened();
  try {
    return await new Promise((done, failed) => {
      const change = db.transaction(STORE, mode, { durability: "strict" });
      const asked = act(change.objectStore(STORE));
      change.oncomplete = () => done(asked && asked.result);
      change.onabort = change.onerror = () => failed(change.error);
    });
  } finally {
    db.close();
  }
}

export function newId() {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (one) => one.toString(16).padStart(2, "0")).join("");
}

/** Keeps an entry; resolves once it would survive a dead battery. */
export const keep = ({ number: _, refused: __, ...entry }) => step("readwrite", (store) => store.add(entry));
export const all = () => step("readonly", (store) => store.getAll());
export const drop = (number) => step("readwrite", (store) => store.delete(number));
const change = (entry) => step("readwrite", (store) => store.put(entry));

/** Fetches, and gives up where the connection hangs. */
async function asked(address, options, most = TAKES_MS) {
  const stop = new AbortController();
  const clock = setTimeout(() => stop.abort(), most);
  try {
    return await fetch(address, { credentials: "same-origin", cache: "no-store", signal: stop.signal, ...options });
  } finally {
    clearTimeout(clock);
  }
}

/** What the server says of a refusal: the sentence beside the field, or the page's own. */
function sentence(html, status) {
  const page = new DOMParser().parseFromString(html, "text/html");
  const said = page.querySelector("main .fault, main [role=alert], main p");
  return said ? said.textContent.trim() : `The book did not take it (${status}).`;
}

/** The same fields with their files, as a browser sends them; it marks their borders itself. */
function withFiles(entry) {
  const data = new FormData();
  for (const [name, value] of new URLSearchParams(entry.body)) data.append(name, value);
  for (const [name, file] of entry.files) data.append(name, file);
  return data;
}

/**
 * Sends one entry.
 * @returns {Promise<{state: "written"|"refused"|"waits", why?: string, address?: string}>} of one
 * that waits ``why`` may be a name by which the page has the words.
 */
async function send(entry) {
  try {
    const fresh = await asked("/fresh.json");
    if (fresh.status === 401) return { state: "waits", why: "signedOut" };
    if (!fresh.ok) return { state: "waits", why: "silent" };
    const { token } = await fresh.json();
    const answer = await asked(entry.address, {
      method: "POST",
      headers: {
        ...(entry.files ? {} : { "content-type": "application/x-www-form-urlencoded" }),
        "x-csrftoken": token,
        "x-typed-ms": String(entry.typed),
        "x-clock-ms": String(Date.now()),
      },
      body: entry.files ? withFiles(entry) : entry.body,
    }, entry.files ? A_FILE_TAKES_MS : TAKES_MS);
    if (answer.ok) return { state: "written", address: answer.headers.get("x-goes-to") };
    const text = await answer.text();
    if ([400, 404, 409, 413, 422].includes(answer.status)) return { state: "refused", why: sentence(text, answer.status) };
    return { state: "waits", why: answer.status === 503 ? sentence(text, 503) : "" };
  } catch {
    return { state: "waits", why: "" };
  }
}

let sending = Promise.resolve();

/** Sends what waits, in order, until one has to wait; two pages at once, or two calls, take turns. */
export function sendAll() {
  const run = () => (navigator.locks ? navigator.locks.request("mancary-outbox", sendEach) : sendEach());
  sending = sending.then(run, run);
  return sending;
}

async function sendEach() {
  let last = null;
  for (const entry of await all()) {
    if (entry.refused) continue;
    const found = await send(entry);
    last = { ...found, number: entry.number };
    if (found.state === "waits") break;
    if (found.state === "written") await drop(entry.number);
    else await change({ ...entry, refused: found.why });
  }
  return last;
}
