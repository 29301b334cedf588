/** A tile that cannot be used: which file, and why, for the people who keep the folder. */
export class TileError extends Error {
  override readonly name = "TileError";
  /** Name of the file, without its folder. */
  readonly file: string;
  readonly reason: string;

  constructor(file: string, reason: string, options?: ErrorOptions) {
    super(`${file}: ${reason}`, options);
    this.file = file;
    this.reason = reason;
  }
}
