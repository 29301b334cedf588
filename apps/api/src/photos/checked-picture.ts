import { checkedJpeg } from "./checked-jpeg";
import { checkedPng } from "./checked-png";
import { checkedTiff } from "./checked-tiff";
import type { PhotoFormat } from "./photo-reader";

/** A file whose header was read and keeps to the bounds, and what of the file the decoder is to see. */
export interface CheckedPicture {
  /** The picture alone: text, profiles, thumbnails and further pages are left out, since they can be made to unpack without end. */
  readonly picture: Uint8Array;
  /** The TIFF structure with what the camera recorded, where there is one. */
  readonly tagged?: Uint8Array;
  readonly hasProfile: boolean;
  readonly isLinear: boolean;
}

/**
 * Read the header and hold it to what can be decoded in bounded time and memory.
 * @throws UnreadablePhoto
 */
export function checkedPicture(format: PhotoFormat, bytes: Uint8Array): CheckedPicture {
  if (format === "jpeg") return checkedJpeg(bytes);
  return format === "png" ? checkedPng(bytes) : checkedTiff(bytes);
}
