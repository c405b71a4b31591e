// Keeps tonight's round, the cards of its boxes and what they are drawn with, for when the book does
// not answer. The book is always asked first.
const KEPT = "mancary-pages-1";
const TAKES_MS = 10000;

self.addEventListener("install", (event) => event.waitUntil(self.skipWaiting()));
self.addEventListener("activate", (event) => event.waitUntil(self.clients.claim()));

const isStatic = (url) => url.pathname.startsWith("/static/");

/** Tonight's round is kept under one name, however it was asked for; a round of another day is not. */
function nameOf(request) {
  const url = new URL(request.url);
  if (url.pathname !== "/") return request;
  return url.searchParams.has("on") && !url.searchParams.has("said") ? null : new Request("/");
}

async function keep(request, answer) {
  const name = nameOf(request);
  if (name && answer.ok && !answer.redirected) await (await caches.open(KEPT)).put(name, answer.clone());
  return answer;
}

/** The book's own answer; what is kept, where the book fails or is slow. A slow book is waited for
    where nothing is kept. */
async function first(request) {
  const held = await caches.match(nameOf(request) || request);
  const asked = fetch(request).then((answer) => keep(request, answer));
  asked.catch(() => {});
  try {
    if (!held) return await asked;
    const slow = new Promise((done) => setTimeout(done, TAKES_MS, held));
    return await Promise.race([asked, slow]);
  } catch {
    return held || new Response(
      "<!DOCTYPE html><html lang=en><meta charset=utf-8><meta name=viewport content='width=device-width'><title>Not kept</title>"
      + "<p>The book does not answer, and this page is not kept on this phone. What you wrote down is kept. <a href='/'>Tonight’s round</a></p>",
      { status: 503, headers: { "content-type": "text/html; charset=utf-8" } });
  }
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  if (request.method !== "GET" || url.origin !== location.origin) return;
  if (isStatic(url)) event.respondWith(caches.match(request).then((held) => held || fetch(request).then((one) => keep(request, one))));
  else if (request.mode === "navigate") event.respondWith(first(request));
});

self.addEventListener("message", (event) => {
  const keepEach = async () => {
    for (const address of event.data.keep || []) {
      const request = new Request(address, { headers: { accept: "text/html" } });
      await fetch(request).then((answer) => keep(request, answer)).catch(() => {});
    }
  };
  event.waitUntil(keepEach());
});
