import { inflateSync } from "node:zlib";

/** Unpacks a piece of a file; more than the bound is a fault. */
export type Unpack = (packed: Uint8Array, mostBytes: number) => Uint8Array;

const tooMuch = () => new Error("more comes out of the packing than the header says");

export const inflate: Unpack = (packed, mostBytes) => {
  try {
    return inflateSync(packed, { maxOutputLength: mostBytes });
  } catch (error) {
    if (error instanceof Error && "code" in error && error.code === "ERR_BUFFER_TOO_LARGE") throw tooMuch();
    throw error;
  }
};

// TIFF 6.0, section 9
export const packBits: Unpack = (packed, mostBytes) => {
  const out = new Uint8Array(mostBytes);
  let length = 0;
  for (let at = 0; at < packed.length; ) {
    const header = ((packed[at++] as number) << 24) >> 24;
    if (header === -128) continue;
    const count = Math.abs(header) + 1;
    if (length + count > mostBytes) throw tooMuch();
    if (header < 0) out.fill(packed[at++] ?? 0, length, length + count);
    else {
      out.set(packed.subarray(at, at + count), length);
      at += count;
    }
    length += count;
  }
  return out.subarray(0, length);
};

// TIFF 6.0, section 13
const CLEAR = 256;
const END = 257;
const CODES = 4096;
const LEAST_BITS = 9;
const MOST_BITS = 12;

export const lzw: Unpack = (packed, mostBytes) => {
  const out = new Uint8Array(mostBytes);
  // a code stands for a run that came out before: the one before it in the file and the byte after that
  const starts = new Uint32Array(CODES);
  const lengths = new Uint32Array(CODES);
  let length = 0;
  let next = END + 1;
  let width = LEAST_BITS;
  let held = 0;
  let bits = 0;
  let before = 0;
  let beforeLength = 0;
  for (const byte of packed) {
    held = (held << 8) | byte;
    bits += 8;
    if (bits < width) continue;
    bits -= width;
    const code = held >> bits;
    held &= (1 << bits) - 1;
    if (code === END) break;
    if (code === CLEAR) {
      next = END + 1;
      width = LEAST_BITS;
      beforeLength = 0;
      continue;
    }
    if (beforeLength > 0 && next < CODES) {
      starts[next] = before;
      lengths[next++] = beforeLength + 1;
    }
    if (code >= next) throw new Error("a code that stands for nothing");
    const count = code < CLEAR ? 1 : (lengths[code] as number);
    if (length + count > mostBytes) throw tooMuch();
    if (code < CLEAR) out[length] = code;
    // byte by byte: the run may reach into what is being written
    else for (let i = 0, from = starts[code] as number; i < count; i++) out[length + i] = out[from + i] as number;
    before = length;
    beforeLength = count;
    length += count;
    if (next === (1 << width) - 1 && width < MOST_BITS) width++;
  }
  return out.subarray(0, length);
};
