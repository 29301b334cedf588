import { crc32 } from "node:zlib";
import { srgbFromLinear } from "@fieldstop/core/bracketing";
import sharp, { type Sharp } from "sharp";
import type { Scene } from "../core/bracketing/synthetic-scene";

export const WIDTH = 200;
const HEIGHT = 100;
export const PIXELS = WIDTH * HEIGHT;

export interface Settings {
  /** As a camera writes it: `1/125`. */
  readonly time?: string;
  readonly aperture?: string;
  readonly iso?: string;
  readonly bias?: string;
}

/** Codes of a scene at a bias, from left to right: grey, of 8 or 16 bits. */
function codes(scene: Scene, biasStops: number, bits: 8 | 16, linear = false): Uint8Array | Uint16Array {
  const full = 2 ** bits - 1;
  const samples = bits === 8 ? new Uint8Array(PIXELS * 3) : new Uint16Array(PIXELS * 3);
  for (let i = 0; i < PIXELS; i++) {
    const light = Math.min(1, 2 ** ((scene[i] as number) + biasStops));
    const at = (i % HEIGHT) * WIDTH + Math.floor(i / HEIGHT);
    samples.fill(Math.round(full * (linear ? light : srgbFromLinear(light))), at * 3, at * 3 + 3);
  }
  return samples;
}

function picture(scene: Scene, biasStops: number, bits: 8 | 16, settings: Settings, linear?: boolean): Sharp {
  const raw = { width: WIDTH, height: HEIGHT, channels: 3 as const };
  const made = sharp(codes(scene, biasStops, bits, linear), { raw }).toColourspace(bits === 8 ? "srgb" : "rgb16");
  const { time, aperture, iso, bias } = settings;
  const recorded = {
    ...(time === undefined ? {} : { ExposureTime: time }),
    ...(aperture === undefined ? {} : { FNumber: aperture }),
    ...(iso === undefined ? {} : { ISOSpeedRatings: iso }),
    ...(bias === undefined ? {} : { ExposureBiasValue: bias }),
  };
  return Object.keys(recorded).length === 0 ? made : made.withExif({ IFD2: recorded });
}

export async function jpeg(scene: Scene, biasStops: number, settings: Settings = {}): Promise<Uint8Array> {
  return picture(scene, biasStops, 8, settings).jpeg({ quality: 95 }).toBuffer();
}

export async function png16(scene: Scene, biasStops: number, settings: Settings = {}): Promise<Uint8Array> {
  return picture(scene, biasStops, 16, settings).png().toBuffer();
}

/** A PNG that says by its gAMA chunk that it counts by light. */
export async function linearPng(scene: Scene, biasStops: number, settings: Settings = {}): Promise<Uint8Array> {
  const made = await picture(scene, biasStops, 16, settings, true).png().toBuffer();
  const gamma = new Uint8Array(4);
  new DataView(gamma.buffer).setUint32(0, 100_000);
  return Buffer.concat([made.subarray(0, 33), pngChunk("gAMA", gamma), made.subarray(33)]);
}

export function pngChunk(type: string, data: Uint8Array): Uint8Array {
  const chunk = Buffer.alloc(12 + data.length);
  chunk.writeUInt32BE(data.length, 0);
  chunk.write(type, 4, "latin1");
  chunk.set(data, 8);
  chunk.writeUInt32BE(crc32(chunk.subarray(4, 8 + data.length)), 8 + data.length);
  return chunk;
}

/** A PNG whose header alone claims a size. */
export async function pngOfClaimedSize(width: number, height: number): Promise<Uint8Array> {
  const raw = { width: 1, height: 1, channels: 3 as const };
  const made = await sharp(new Uint8Array(3), { raw }).png().toBuffer();
  const header = Buffer.from(made.subarray(16, 29));
  header.writeUInt32BE(width, 0);
  header.writeUInt32BE(height, 4);
  return Buffer.concat([made.subarray(0, 8), pngChunk("IHDR", header), made.subarray(33)]);
}

/** A TIFF of 16 bits with settings in an Exif directory, which the encoder does not write. */
export async function tiff16(
  scene: Scene,
  biasStops: number,
  seconds?: readonly [number, number],
): Promise<Uint8Array> {
  const made = await picture(scene, biasStops, 16, {}).tiff({ compression: "lzw" }).toBuffer();
  if (seconds === undefined) return made;
  const exifAt = made.length + (made.length % 2);
  const exif = Buffer.alloc(2 + 3 * 12 + 4 + 16);
  const rationalsAt = exifAt + 2 + 3 * 12 + 4;
  exif.writeUInt16LE(3, 0);
  writeEntry(exif, 2, 0x829a, 5, rationalsAt);
  writeEntry(exif, 14, 0x829d, 5, rationalsAt + 8);
  writeEntry(exif, 26, 0x8827, 3, 100);
  for (const [i, value] of [...seconds, 8, 1].entries()) exif.writeUInt32LE(value, 2 + 3 * 12 + 4 + 4 * i);
  return withTiffTag(Buffer.concat([made, Buffer.alloc(exifAt - made.length), exif]), 0x8769, 4, exifAt);
}

/** A TIFF with one more tag in its first directory, which moves to the end. */
export function withTiffTag(tiff: Uint8Array, tag: number, type: number, value: number): Uint8Array {
  const source = Buffer.from(tiff);
  const at = source.readUInt32LE(4);
  const entries = Array.from({ length: source.readUInt16LE(at) }, (_, i) =>
    source.subarray(at + 2 + 12 * i, at + 14 + 12 * i),
  );
  const added = Buffer.alloc(12);
  writeEntry(added, 0, tag, type, value);
  const kept = entries.filter((entry) => entry.readUInt16LE(0) !== tag);
  const all = [...kept, added].sort((a, b) => a.readUInt16LE(0) - b.readUInt16LE(0));
  const count = Buffer.alloc(2);
  count.writeUInt16LE(all.length);
  const padding = Buffer.alloc(source.length % 2);
  const directoryAt = source.length + padding.length;
  const result = Buffer.concat([source, padding, count, ...all, Buffer.alloc(4)]);
  result.writeUInt32LE(directoryAt, 4);
  return result;
}

function writeEntry(into: Buffer, at: number, tag: number, type: number, value: number): void {
  into.writeUInt16LE(tag, at);
  into.writeUInt16LE(type, at + 2);
  into.writeUInt32LE(1, at + 4);
  into.writeUInt32LE(value, at + 8);
}
