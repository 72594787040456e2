/** Where the worker keeps answers, as in public/sw.js. */
export const keptAnswers = "filmwright-job-1";

/** Answers that a card needs, as in public/sw.js. */
const isOfCard =
  /^\/api\/v1\/(session|shop|films|vehicles\/[^/]+|jobs\/[^/]+(\/cards(\/[^/]+)?)?)$/;

/** Has the service worker keep this page: the shell, and what was loaded before it took over.
 * Without one (no secure connection) the page works on as long as it stays open. */
export async function keepShell(): Promise<void> {
  if (!("serviceWorker" in navigator) || !("caches" in window)) return;
  try {
    await navigator.serviceWorker.register("/sw.js", { scope: "/jobs/" });
    await navigator.serviceWorker.ready;
    const cache = await caches.open(keptAnswers);
    const loaded = performance
      .getEntriesByType("resource")
      .map(({ name }) => new URL(name))
      .filter(
        ({ origin, pathname }) =>
          origin === location.origin &&
          (pathname.startsWith("/assets/") || pathname === "/mark.svg" || isOfCard.test(pathname)),
      );
    await Promise.all(
      loaded.map(async ({ href }) => {
        if (!(await cache.match(href))) await cache.add(href);
      }),
    );
  } catch {
    // A private window may refuse; the outbox still keeps every report.
  }
}
