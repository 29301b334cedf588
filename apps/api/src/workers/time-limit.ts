/**
 * Work under a signal that is aborted with another one, or when it has taken too long. It leaves nothing behind in the other, which may live long:
 * `AbortSignal.any` would.
 */
export async function withTimeLimit<T>(
  maxMs: number,
  wanted: AbortSignal | undefined,
  work: (signal: AbortSignal) => Promise<T>,
): Promise<T> {
  const limit = new AbortController();
  const giveUp = () => limit.abort(wanted?.reason);
  const timer = setTimeout(() => limit.abort(new Error(`not done in ${maxMs / 1000} s`)), maxMs);
  timer.unref?.();
  if (wanted?.aborted) giveUp();
  else wanted?.addEventListener("abort", giveUp, { once: true });
  try {
    return await work(limit.signal);
  } finally {
    clearTimeout(timer);
    wanted?.removeEventListener("abort", giveUp);
  }
}
