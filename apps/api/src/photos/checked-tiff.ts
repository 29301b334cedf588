import type { CheckedPicture } from "./checked-picture";
import { requireArea, requireSize } from "./picture-bounds";
import { damagedPhoto, UnreadablePhoto } from "./unreadable-photo";

// TIFF 6.0, section 8 and those named there; 8 and 32946: deflate (Adobe, TIFF Technical Note 2)
const WIDTH = 256;
const HEIGHT = 257;
const COMPRESSION = 259;
const CHANNELS = 277;
const TILE_WIDTH = 322;
const TILE_HEIGHT = 323;
const PROFILE = 34_675;
/** Also: depth, photometry, fill order, strips, planes, predictor, colours, tiles, alpha, sample format, and what JPEG in TIFF needs. */
const NEEDED: ReadonlySet<number> = new Set([
  WIDTH,
  HEIGHT,
  258,
  COMPRESSION,
  262,
  266,
  273,
  CHANNELS,
  278,
  279,
  284,
  317,
  320,
  TILE_WIDTH,
  TILE_HEIGHT,
  324,
  325,
  338,
  339,
  347,
  530,
  531,
  532,
]);
/** None, LZW, JPEG, deflate, PackBits, deflate. */
const COMPRESSIONS: ReadonlySet<number> = new Set([1, 5, 7, 8, 32_773, 32_946]);
const MAX_CHANNELS = 5;
/** A tile is in memory as a whole, however small the picture. */
const MAX_TILE_PIXELS = 16_777_216;
const ENTRY_BYTES = 12;
const SHORT = 3;
const LONG = 4;

/** Read the first directory of a TIFF; only this page and the tags of its picture are for the decoder. Source: TIFF 6.0, section 2. */
export function checkedTiff(bytes: Uint8Array): CheckedPicture {
  const picture = new Uint8Array(bytes);
  const view = new DataView(picture.buffer);
  const little = picture[0] === 0x49;
  if (view.byteLength < 8) throw damagedPhoto();
  const directory = view.getUint32(4, little);
  if (directory + 2 > view.byteLength) throw damagedPhoto();
  const entries = view.getUint16(directory, little);
  const first = directory + 2;
  if (first + entries * ENTRY_BYTES + 4 > view.byteLength) throw damagedPhoto();
  const values = new Map<number, number>();
  let kept = 0;
  for (let i = 0; i < entries; i++) {
    const at = first + i * ENTRY_BYTES;
    const tag = view.getUint16(at, little);
    if (!values.has(tag)) values.set(tag, valueAt(view, at, little));
    if (!NEEDED.has(tag)) continue;
    picture.copyWithin(first + kept * ENTRY_BYTES, at, at + ENTRY_BYTES);
    kept++;
  }
  requireBounds(values);
  view.setUint16(directory, kept, little);
  // no further page
  view.setUint32(first + kept * ENTRY_BYTES, 0, little);
  return { picture, hasProfile: values.has(PROFILE), isLinear: false, tagged: bytes };
}

/** A number as it stands in its entry, if it is of a type that a size may have. */
function valueAt(view: DataView, at: number, little: boolean): number {
  const type = view.getUint16(at + 2, little);
  if (type === SHORT) return view.getUint16(at + 8, little);
  return type === LONG ? view.getUint32(at + 8, little) : Number.NaN;
}

function requireBounds(values: ReadonlyMap<number, number>): void {
  const width = values.get(WIDTH);
  const height = values.get(HEIGHT);
  if (width === undefined || height === undefined || Number.isNaN(width + height)) throw damagedPhoto();
  requireSize(width, height);
  const compression = values.get(COMPRESSION) ?? 1;
  if (!COMPRESSIONS.has(compression)) {
    const allowed = "none, LZW, JPEG, deflate or PackBits";
    throw new UnreadablePhoto("this TIFF is compressed in another way", `compression ${compression}`, allowed);
  }
  const channels = values.get(CHANNELS) ?? 1;
  if (!(channels <= MAX_CHANNELS)) {
    const allowed = `at most ${MAX_CHANNELS} channels`;
    throw new UnreadablePhoto("this picture has too many channels", `${channels} channels`, allowed);
  }
  const tileWidth = values.get(TILE_WIDTH);
  const tileHeight = values.get(TILE_HEIGHT);
  if (tileWidth === undefined && tileHeight === undefined) return;
  requireArea(tileWidth ?? 0, tileHeight ?? 0, MAX_TILE_PIXELS, "a tile of this picture is too large");
}
