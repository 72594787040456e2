// Keeps the pages of a job at hand when the network drops: what was fetched last is shown again.
// Nothing is answered from here while the server answers; reports are kept by the page's outbox.
const name = "filmwright-job-1";
const shell = "/index.html";

self.addEventListener("install", (event) => {
  event.waitUntil(caches.open(name).then((cache) => cache.add(shell)));
  self.skipWaiting();
});

self.addEventListener("activate", (event) => {
  const old = caches
    .keys()
    .then((keys) =>
      Promise.all(keys.filter((key) => key !== name).map((key) => caches.delete(key))),
    );
  event.waitUntil(old.then(() => self.clients.claim()));
});

const isKept = ({ pathname }) =>
  pathname.startsWith("/assets/") ||
  pathname === "/mark.svg" ||
  /^\/api\/v1\/(session|shop|films|vehicles\/[^/]+|jobs\/[^/]+(\/cards(\/[^/]+)?)?)$/.test(
    pathname,
  );

async function freshOrKept(request, key) {
  const cache = await caches.open(name);
  try {
    const answer = await fetch(request);
    if (answer.ok) await cache.put(key, answer.clone());
    return answer;
  } catch (fault) {
    const kept = await cache.match(key);
    if (kept) return kept;
    throw fault;
  }
}

async function keptOrFresh(request) {
  const kept = await caches.match(request);
  return kept ?? freshOrKept(request, request);
}

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== "GET" || address.origin !== self.location.origin) return;
  if (request.mode === "navigate") event.respondWith(freshOrKept(request, shell));
  else if (address.pathname.startsWith("/assets/")) event.respondWith(keptOrFresh(request));
  else if (isKept(address)) event.respondWith(freshOrKept(request, request));
});
