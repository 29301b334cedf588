/** A failed request to a remote. The message names no address, since clients see it. */
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
