/** A file that is no photograph, or none that is taken here. */
export class UnreadablePhoto extends Error {
  override readonly name = "UnreadablePhoto";

  constructor(
    message: string,
    readonly received: string,
    readonly allowed: string,
  ) {
    super(message);
  }
}

export const TAKEN_FORMATS = "a JPEG, PNG or TIFF photograph";

export function damagedPhoto(): UnreadablePhoto {
  return new UnreadablePhoto("this photograph is damaged or cut short", "a file that cannot be decoded", TAKEN_FORMATS);
}
