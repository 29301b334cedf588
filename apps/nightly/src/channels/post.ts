import type { Outcome } from "./channel";

export interface Post {
  readonly url: string;
  readonly body: string;
  readonly headers: Readonly<Record<string, string>>;
  readonly timeoutMs: number;
  readonly signal: AbortSignal;
}

/** Posts JSON once. Only an answer of 2xx counts as delivered; redirects are not followed, so that nothing signed strays. */
export async function post({ url, body, headers, timeoutMs, signal }: Post): Promise<Outcome> {
  const timeout = AbortSignal.timeout(timeoutMs);
  try {
    const response = await fetch(url, {
      method: "POST",
      body,
      headers: { "Content-Type": "application/json", "User-Agent": "fieldstop-nightly", ...headers },
      redirect: "manual",
      signal: AbortSignal.any([signal, timeout]),
    });
    // what it says is of no interest, but the connection serves the next delivery
    await response.body?.cancel();
    if (response.ok) return { kind: "delivered" };
    const retryAfterMs = afterMs(response.headers.get("Retry-After"));
    return {
      kind: "failed",
      reason: `HTTP ${response.status}`,
      ...(retryAfterMs === undefined ? {} : { retryAfterMs }),
      // Standard Webhooks: a receiver that answers 410 Gone wants no more
      ...(response.status === 410 ? { final: true } : {}),
    };
  } catch (error) {
    if (timeout.aborted) return { kind: "failed", reason: `no answer within ${timeoutMs / 1000} s` };
    return { kind: "failed", reason: describe(error) };
  }
}

/** RFC 9110, section 10.2.3: seconds, or a date. */
function afterMs(header: string | null): number | undefined {
  if (header === null) return undefined;
  const ms = /^\d+$/.test(header.trim()) ? Number(header) * 1000 : Date.parse(header) - Date.now();
  return Number.isFinite(ms) ? Math.max(0, ms) : undefined;
}

/** Fetch hides what happened on the network in the cause of its error. */
function describe(error: unknown): string {
  if (!(error instanceof Error)) return String(error);
  const { cause } = error as { cause?: { code?: string; message?: string } };
  return cause?.code ?? cause?.message ?? error.message;
}
