import { ElevationGrid } from "@fieldstop/core/horizon";
import { cellFromName, type DegreeCell } from "../tiles/degree-cell";
import { inflated } from "../tiles/shared-inflater";
import { TileError } from "../tiles/tile-error";
import { unzipTile } from "./unzip-tile";

// NASA/USGS, Shuttle Radar Topography Mission (SRTM) user guide: square tiles of a degree, 16-bit signed, high byte first, rows from
// the north, edges shared with the neighbours, voids -32768
const VOID = -32768;
const SIDES = [3601, 1201] as const;
const BYTES = SIDES.map((side) => side * side * 2);
/** Bytes that no tile exceeds. */
export const LARGEST_HGT = Math.max(...BYTES);
/** Bytes that no file of one exceeds: packing what does not pack adds a little. */
export const LARGEST_HGT_FILE = LARGEST_HGT + 1_000_000;

// The lowest and the highest ground on Earth with room for a datum's offset: the shore of the Dead Sea, Everest
const PLAUSIBLE_M = { least: -600, most: 9000 };
const IMPLAUSIBLE_SHARE = 0.01;

/** What these tiles are, for people. */
export const SRTM = "SRTM tiles (.hgt)";

/** Whether a file is an `.hgt` tile, plain or packed, by its name's ending. */
export const isHgt = (name: string): boolean => /\.hgt(\.gz|\.zip)?$/i.test(name);

/**
 * The degree cell of an `.hgt` file by its name: `N38W028.hgt`, `N38W028.SRTMGL1.hgt.zip`.
 * @throws TileError for a name that tells none
 */
export function hgtCell(name: string): DegreeCell {
  const cell = /^[NS]\d{2}[EW]\d{3}\./i.test(name) ? cellFromName(name) : null;
  if (cell === null) throw new TileError(name, "the name tells no degree cell, such as N38W028.hgt");
  return cell;
}

/**
 * Read the grid of heights in an `.hgt` file: SRTM tiles of 1″ (3601 × 3601) or 3″ (1201 × 1201), plain, `.gz` or `.zip`.
 *
 * @param name the file's name, which tells the cell and the packing
 * @param bytes the file's contents
 * @throws TileError naming the file: a bad name, a packing that does not open, a size that is neither, heights no ground has
 */
export async function readHgt(name: string, bytes: Uint8Array): Promise<ElevationGrid> {
  hgtCell(name);
  return hgtGrid(name, await unpacked(name, bytes));
}

/**
 * The grid of an unpacked file; heights that lie at the start of shared memory stay where they are.
 * @throws TileError as for the file
 */
export function hgtGrid(name: string, plain: Uint8Array): ElevationGrid {
  const cell = hgtCell(name);
  const side = SIDES[BYTES.indexOf(plain.length)];
  if (side === undefined) {
    const kind = plain.length < LARGEST_HGT ? "truncated, or not an SRTM tile" : "too large for an SRTM tile";
    throw new TileError(name, `${plain.length} bytes of heights; 1″ has ${BYTES[0]}, 3″ has ${BYTES[1]}: ${kind}`);
  }
  const declared = /SRTMGL([13])\b/i.exec(name)?.[1];
  if (declared !== undefined && (declared === "1") !== (side === 3601)) {
    throw new TileError(name, `the name says ${declared}″, the size says ${side === 3601 ? 1 : 3}″`);
  }
  const samples = heightsOf(plain);
  requirePlausible(name, samples);
  const step = 1 / (side - 1);
  return new ElevationGrid({
    samples,
    rows: side,
    columns: side,
    northDeg: cell.latitude + 1,
    westDeg: cell.longitude,
    latStepDeg: step,
    lonStepDeg: step,
    voidValue: VOID,
  });
}

async function unpacked(name: string, bytes: Uint8Array): Promise<Uint8Array> {
  try {
    if (/\.gz$/i.test(name)) return await inflated("gzip", [bytes], LARGEST_HGT);
    if (/\.zip$/i.test(name)) return await unzipTile(name, bytes, LARGEST_HGT);
  } catch (error) {
    if (error instanceof TileError) throw error;
    throw damagedPacking(name, error);
  }
  return bytes;
}

export function damagedPacking(name: string, cause: unknown): TileError {
  const why = cause instanceof Error ? cause.message : String(cause);
  return new TileError(name, `the packing does not open (${why}): truncated or damaged`, { cause });
}

function heightsOf(bytes: Uint8Array): Int16Array {
  // shared, so that other threads can scan them
  const own = inShared(bytes);
  const littleEndian = new Uint8Array(Uint16Array.of(1).buffer)[0] === 1;
  if (littleEndian) Buffer.from(own, 0, bytes.length).swap16();
  return new Int16Array(own, 0, bytes.length / 2);
}

function inShared(bytes: Uint8Array): SharedArrayBuffer {
  // no larger than it need be, but for a byte
  if (bytes.buffer instanceof SharedArrayBuffer && bytes.buffer.byteLength <= bytes.length + 1) return bytes.buffer;
  const own = new SharedArrayBuffer(bytes.length);
  new Uint8Array(own).set(bytes);
  return own;
}

function requirePlausible(name: string, samples: Int16Array): void {
  let measured = 0;
  let implausible = 0;
  for (let i = 0; i < samples.length; i += 3) {
    const z = samples[i] as number;
    if (z === VOID) continue;
    measured++;
    if (z < PLAUSIBLE_M.least || z > PLAUSIBLE_M.most) implausible++;
  }
  if (implausible <= measured * IMPLAUSIBLE_SHARE) return;
  const percent = Math.round((100 * implausible) / measured);
  throw new TileError(
    name,
    `${percent} % of the heights are ones that no ground has: byte order reversed, or not heights`,
  );
}
