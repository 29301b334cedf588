/** Answers of the service, kept on the device with the time at which they came, for when there is no network. */
const STORE = "fieldstop-answers-1";
const KEPT_AT = "x-kept-at";
// A shore has more bars than bytes: past this the kept answer serves
const PATIENCE_MS = 4_000;
const MOST_KEPT = 120;

/**
 * A fetch that asks the network first and keeps good answers; when the network fails or is slow, it answers with what it kept and tells since when.
 * It stands in the page rather than in the service worker, so that the very first visit is kept, too.
 */
export function keepingFetch(onKept: (since: Date) => void): typeof fetch {
  return async (input, init) => {
    const request = new Request(input, init);
    if (request.method !== "GET" || !("caches" in globalThis)) return fetch(request);
    const store = await caches.open(STORE);
    const kept = await store.match(request.url);
    const serve = (answer: Response): Response => {
      onKept(new Date(answer.headers.get(KEPT_AT) ?? 0));
      return answer;
    };
    // where something is kept, a slow network is not waited for
    const signal =
      kept === undefined ? request.signal : AbortSignal.any([request.signal, AbortSignal.timeout(PATIENCE_MS)]);
    try {
      // the browser's own cache would answer as if the service had: it may serve, but only once the service has said that it still holds
      const response = await fetch(request, { signal, cache: "no-cache" });
      if (response.ok) await keep(store, request.url, response.clone());
      return response.status >= 500 && kept !== undefined ? serve(kept) : response;
    } catch (error) {
      if (kept === undefined || request.signal.aborted) throw error;
      return serve(kept);
    }
  };
}

async function keep(store: Cache, url: string, response: Response): Promise<void> {
  const headers = new Headers(response.headers);
  headers.set(KEPT_AT, new Date().toISOString());
  await store.put(url, new Response(response.body, { headers }));
  const keys = await store.keys();
  await Promise.all(keys.slice(0, Math.max(0, keys.length - MOST_KEPT)).map((key) => store.delete(key)));
}
