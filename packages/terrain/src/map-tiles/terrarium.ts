import { decode } from "fast-png";
import { boundedPng } from "./bounded-png";

// The open terrarium coding of elevation tiles: height = R·256 + G + B/256 − 32768
const OFFSET_M = 32_768;
/** The deepest sea lies at −10 935 m: less is no height, but a pixel that was never filled. */
const LEAST_M = -12_000;

/** Pixels on a side that no tile exceeds: sets have 256 or 512. */
const LARGEST_SIDE = 1024;
/** Bytes that no tile's file exceeds: red, green, blue and opacity of each pixel, and room for what a PNG adds. */
export const LARGEST_MAP_TILE = LARGEST_SIDE * LARGEST_SIDE * 4 + 100_000;

/** Heights of a square tile, row by row; NaN where it has none. */
export interface TerrariumTile {
  readonly side: number;
  readonly heightsM: Float32Array;
}

/** @throws Error for what is no PNG of red, green and blue, or not square */
export function readTerrarium(bytes: Uint8Array): TerrariumTile {
  const { width, height, data, channels, depth, palette } = decode(boundedPng(bytes, LARGEST_SIDE), { checkCrc: true });
  if (depth !== 8 || channels < 3 || palette !== undefined) throw new Error("not red, green and blue of 8 bits each");
  if (width !== height || (width & (width - 1)) !== 0)
    throw new Error(`${width} × ${height} pixels, not a square tile`);
  const heightsM = new Float32Array(width * height);
  for (let i = 0, at = 0; i < heightsM.length; i++, at += channels) {
    const transparent = channels === 4 && data[at + 3] === 0;
    const heightM = (data[at] as number) * 256 + (data[at + 1] as number) + (data[at + 2] as number) / 256 - OFFSET_M;
    heightsM[i] = transparent || heightM < LEAST_M ? Number.NaN : heightM;
  }
  return { side: width, heightsM };
}
