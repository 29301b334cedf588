import type { CheckedPicture } from "./checked-picture";
import { requireSize } from "./picture-bounds";
import { damagedPhoto, UnreadablePhoto } from "./unreadable-photo";

/** Each scan goes over the whole picture. Encoders write 10 or so. */
const MAX_SCANS = 32;

// ISO/IEC 10918-1, table B.1
const EOI = 0xd9;
const SOS = 0xda;
const COM = 0xfe;
const APP0 = 0xe0;
const APP1 = 0xe1;
const APP2 = 0xe2;
/** Says how colours are coded. */
const APP14 = 0xee;
const APP15 = 0xef;
const EXIF = Buffer.from("Exif\0\0");
const PROFILE = Buffer.from("ICC_PROFILE\0");

interface Segment {
  readonly marker: number;
  readonly start: number;
  readonly end: number;
}

/** Read the segments of a JPEG; before the first scan only what the picture needs is for the decoder. Source: ISO/IEC 10918-1, B.1 and B.2. */
export function checkedJpeg(bytes: Uint8Array): CheckedPicture {
  const picture = new Uint8Array(bytes);
  let used = 2;
  let scans = 0;
  let hasFrame = false;
  let hasProfile = false;
  let tagged: Uint8Array | undefined;
  for (const { marker, start, end } of segmentsOf(bytes)) {
    if (isFrame(marker)) {
      requireFrameSize(bytes, start, end);
      hasFrame = true;
    }
    hasProfile ||= marker === APP2 && contentAfter(PROFILE, bytes, start, end) !== undefined;
    if (marker === APP1) tagged ??= contentAfter(EXIF, bytes, start, end);
    if (marker === SOS && ++scans > MAX_SCANS) throw tooManyScans();
    if (scans > 1 || isAside(marker)) continue;
    // with the first scan comes all that follows
    const keptEnd = marker === SOS ? bytes.length : end;
    if (scans === 1 && marker !== SOS) continue;
    picture.copyWithin(used, start, keptEnd);
    used += keptEnd - start;
  }
  if (!hasFrame || scans === 0) throw damagedPhoto();
  return { picture: picture.subarray(0, used), hasProfile, isLinear: false, ...(tagged && { tagged }) };
}

/** Segments as a decoder finds them, also where they lie in or behind scans. */
function* segmentsOf(bytes: Uint8Array): Generator<Segment> {
  for (let at = bytes.indexOf(0xff, 2); at >= 0; at = bytes.indexOf(0xff, at)) {
    while (bytes[at] === 0xff) at++;
    const marker = bytes[at];
    if (marker === undefined || marker === EOI) return;
    at++;
    if (standsAlone(marker)) continue;
    const length = ((bytes[at] ?? 0) << 8) | (bytes[at + 1] ?? 0);
    const end = Math.min(bytes.length, at + Math.max(2, length));
    yield { marker, start: at - 2, end };
    at = end;
  }
}

/** A byte of a scan, TEM, RST and SOI. */
function standsAlone(marker: number): boolean {
  return marker <= 0x01 || (marker >= 0xd0 && marker <= 0xd8);
}

/** SOF0 to SOF15, among which DHT, JPG and DAC have their markers. */
function isFrame(marker: number): boolean {
  return marker >= 0xc0 && marker <= 0xcf && marker !== 0xc4 && marker !== 0xc8 && marker !== 0xcc;
}

function isAside(marker: number): boolean {
  return marker === COM || (marker > APP0 && marker <= APP15 && marker !== APP14);
}

/** What a segment holds after the name that its content begins with; undefined where it begins otherwise. */
function contentAfter(name: Buffer, bytes: Uint8Array, start: number, end: number): Uint8Array | undefined {
  const content = bytes.subarray(start + 4, end);
  return name.equals(content.subarray(0, name.length)) ? content.subarray(name.length) : undefined;
}

function requireFrameSize(bytes: Uint8Array, start: number, end: number): void {
  if (end - start < 9) throw damagedPhoto();
  const view = new DataView(bytes.buffer, bytes.byteOffset + start);
  requireSize(view.getUint16(7), view.getUint16(5));
}

function tooManyScans(): UnreadablePhoto {
  return new UnreadablePhoto("this picture is stored in too many scans", `over ${MAX_SCANS}`, `at most ${MAX_SCANS}`);
}
