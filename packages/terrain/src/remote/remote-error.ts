/** A remote that did not give what it was asked for; the reason names no address, since it is shown to whoever asks. */
export class RemoteError extends Error {
  override readonly name = "RemoteError";
  readonly transient: boolean;
  readonly retryAfterMs: number;

  constructor(message: string, options: ErrorOptions & { transient: boolean; retryAfterMs?: number }) {
    super(message, options);
    this.transient = options.transient;
    this.retryAfterMs = options.retryAfterMs ?? 0;
  }
}
