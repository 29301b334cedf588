/** A remote that did not give what it was asked for; the reason names no address, since it is shown to whoever asks. */
export class RemoteError extends Error {
  override readonly name = "RemoteError";
  readonly passing: boolean;
  readonly retryAfterMs: number;

  constructor(message: string, options: ErrorOptions & { passing: boolean; retryAfterMs?: number }) {
    super(message, options);
    this.passing = options.passing;
    this.retryAfterMs = options.retryAfterMs ?? 0;
  }
}
