/** How long what is on its way may take to arrive once a stop was asked for [ms]. */
const GRACE_MS = 10_000;

/** A signal that follows another one after some grace: no new work begins, but a request that is out may come home. */
export function afterGrace(stop: AbortSignal, graceMs = GRACE_MS): AbortSignal {
  const cut = new AbortController();
  const later = (): void => {
    setTimeout(() => cut.abort(stop.reason), graceMs).unref();
  };
  if (stop.aborted) later();
  else stop.addEventListener("abort", later, { once: true });
  return cut.signal;
}
