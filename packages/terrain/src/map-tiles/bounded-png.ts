import { inflateSync } from "node:zlib";

// ISO/IEC 15948: the signature, then chunks of length, type, data and checksum
const SIGNATURE_BYTES = 8;
const AROUND_DATA = 12;
/** Those that the pixels need; others, such as a packed colour profile, are left out unread. */
const NEEDED: ReadonlySet<string> = new Set(["IHDR", "PLTE", "IDAT", "tRNS", "IEND"]);
/** The most that a pixel takes: four channels of 16 bits [B]. */
const PIXEL_BYTES = 8;

/**
 * The parts of a PNG that its pixels need, where no more comes out of their packing than its header says.
 * @throws Error for a side that is too large, too much in the packing, and what is no PNG
 */
export function boundedPng(png: Uint8Array, largestSide: number): Uint8Array {
  const bytes = Buffer.from(png.buffer, png.byteOffset, png.length);
  const parts = [bytes.subarray(0, SIGNATURE_BYTES)];
  const packed: Buffer[] = [];
  let mostBytes: number | undefined;
  for (let at = SIGNATURE_BYTES; at + AROUND_DATA <= bytes.length; ) {
    const end = at + AROUND_DATA + bytes.readUInt32BE(at);
    const type = bytes.toString("latin1", at + 4, at + 8);
    const data = bytes.subarray(at + 8, end - 4);
    if (type === "IHDR" && mostBytes === undefined && data.length >= 8) mostBytes = pixelBytes(data, largestSide);
    if (type === "IDAT") packed.push(data);
    if (NEEDED.has(type)) parts.push(bytes.subarray(at, end));
    if (type === "IEND") break;
    at = end;
  }
  if (mostBytes === undefined) throw new Error("no PNG");
  // the decoder itself knows no bound
  inflateSync(Buffer.concat(packed), { maxOutputLength: mostBytes });
  return Buffer.concat(parts);
}

function pixelBytes(header: Buffer, largestSide: number): number {
  const width = header.readUInt32BE(0);
  const height = header.readUInt32BE(4);
  if (width > largestSide || height > largestSide) {
    throw new Error(`${width} × ${height} pixels, which no tile has`);
  }
  // each row begins with a byte of its own, and interlaced there are up to twice as many
  return width * height * PIXEL_BYTES + 2 * height + 16;
}
