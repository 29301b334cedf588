import type { CheckedPicture } from "./checked-picture";
import { requireArea, requireSize } from "./picture-bounds";
import { damagedPhoto } from "./unreadable-photo";

const SIGNATURE_BYTES = 8;
/** Length, type and checksum. */
const FRAME_BYTES = 12;
/** Interlaced, the whole picture is in memory at once, at up to 8 bytes a pixel. */
const MAX_INTERLACED_PIXELS = 25_000_000;
const LINEAR_GAMMA = 100_000;

interface Chunk {
  readonly type: string;
  readonly start: number;
  readonly end: number;
}

/** Read the header of a PNG; only critical chunks are for the decoder. Source: PNG, third edition, 5.3 and 11.2. */
export function checkedPng(bytes: Uint8Array): CheckedPicture {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  const picture = new Uint8Array(bytes);
  let used = SIGNATURE_BYTES;
  let hasHeader = false;
  let hasProfile = false;
  let isLinear = false;
  let tagged: Uint8Array | undefined;
  for (const { type, start, end } of chunksOf(view)) {
    if (!hasHeader && type !== "IHDR") throw damagedPhoto();
    if (type === "IHDR") requirePngSize(view, start);
    hasHeader = true;
    hasProfile ||= type === "iCCP";
    // 11.3.2.2
    isLinear ||= type === "gAMA" && end - start === FRAME_BYTES + 4 && view.getUint32(start + 8) === LINEAR_GAMMA;
    if (type === "eXIf") tagged ??= bytes.subarray(start + 8, end - 4);
    if (!isCritical(type)) continue;
    picture.copyWithin(used, start, end);
    used += end - start;
  }
  if (!hasHeader) throw damagedPhoto();
  return { picture: picture.subarray(0, used), hasProfile, isLinear, ...(tagged && { tagged }) };
}

function* chunksOf(view: DataView): Generator<Chunk> {
  for (let start = SIGNATURE_BYTES; start + FRAME_BYTES <= view.byteLength; ) {
    const end = start + FRAME_BYTES + view.getUint32(start);
    const type = String.fromCharCode(...new Uint8Array(view.buffer, view.byteOffset + start + 4, 4));
    yield { type, start, end: Math.min(end, view.byteLength) };
    start = end;
  }
}

/** 5.4: the fifth bit of the first letter. */
function isCritical(type: string): boolean {
  return (type.charCodeAt(0) & 0x20) === 0;
}

function requirePngSize(view: DataView, start: number): void {
  if (start + FRAME_BYTES + 13 > view.byteLength) throw damagedPhoto();
  const width = view.getUint32(start + 8);
  const height = view.getUint32(start + 12);
  requireSize(width, height);
  const isInterlaced = view.getUint8(start + 20) !== 0;
  if (isInterlaced) requireArea(width, height, MAX_INTERLACED_PIXELS, "this interlaced picture is too large");
}
