import type { Histogram } from "@fieldstop/core";
import sharp, { type SharpOptions } from "sharp";
import { MAX_PIXELS } from "./picture-bounds";
import { damagedPhoto } from "./unreadable-photo";

/** Decoded at once: 100 megapixels of 8 bits, half of that of 16. */
const STRIP_BYTES = 300_000_000;
const BINS_OF_16_BITS = 4096;

/** Profiles stay out of it: a histogram is of the codes as they are stored. */
export const OPENING: SharpOptions = { ignoreIcc: true, failOn: "error", limitInputPixels: MAX_PIXELS };

interface Size {
  readonly width: number;
  readonly height: number;
}

/** Count the codes of a picture: 256 bins for 8 bits a channel, 4096 for 16. */
export async function histogramOf(picture: Uint8Array, { width, height }: Size, bits: 8 | 16): Promise<Histogram> {
  const codes = 2 ** bits;
  const counts = [new Uint32Array(codes), new Uint32Array(codes), new Uint32Array(codes)] as const;
  const rows = Math.max(1, Math.floor(STRIP_BYTES / (width * 3 * (bits / 8))));
  for (let top = 0; top < height; top += rows) {
    const strip = sharp(picture, OPENING)
      .extract({ left: 0, top, width, height: Math.min(rows, height - top) })
      .removeAlpha()
      .toColourspace(bits === 8 ? "srgb" : "rgb16")
      .raw({ depth: bits === 8 ? "uchar" : "ushort" });
    const { data, info } = await decoding(strip.toBuffer({ resolveWithObject: true }));
    const samples = bits === 8 ? data : new Uint16Array(data.buffer, data.byteOffset, data.byteLength / 2);
    countInto(counts, samples, info.channels);
  }
  const binned = (channel: Uint32Array): number[] => Array.from(bits === 8 ? channel : fold(channel));
  return { red: binned(counts[0]), green: binned(counts[1]), blue: binned(counts[2]) };
}

type Counts = readonly [Uint32Array, Uint32Array, Uint32Array];

function countInto([red, green, blue]: Counts, samples: Uint8Array | Uint16Array, channels: number): void {
  const second = channels >= 3 ? 1 : 0;
  const third = channels >= 3 ? 2 : 0;
  for (let i = 0; i < samples.length; i += channels) {
    (red[samples[i] as number] as number)++;
    (green[samples[i + second] as number] as number)++;
    (blue[samples[i + third] as number] as number)++;
  }
}

/** Codes of 16 bits into fewer bins, each code in the bin that it rounds to. */
function fold(counts: Uint32Array): Uint32Array {
  const bins = new Uint32Array(BINS_OF_16_BITS);
  for (let code = 0; code < counts.length; code++) {
    const bin = Math.round((code * (BINS_OF_16_BITS - 1)) / (counts.length - 1));
    bins[bin] = (bins[bin] as number) + (counts[code] as number);
  }
  return bins;
}

/** What the decoder makes of the file. */
export async function decoding<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch {
    throw damagedPhoto();
  }
}
