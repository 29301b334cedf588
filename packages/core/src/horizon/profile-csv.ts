import { DomainError } from "../domain-error";
import type { HorizonProfile } from "./profile";
import { type HorizonPoint, horizonProfileFromPoints } from "./profile-from-points";

/**
 * Parse the profile of a skyline written as plain text, one reading a line: `azimuth,altitude` or `azimuth,altitude,distance`, in
 * degrees and metres, decimal points. A first line that is no reading is taken for a header; empty lines and lines that begin
 * with `#` are passed over.
 *
 * @param text the lines, ended by LF or CR LF
 * @returns the profile, its azimuths ascending [deg]
 * @throws DomainError naming `points`, the line (`points.line-4`), or the reading and its field (`points.3.azimuthDeg`)
 * @example
 * horizonProfileFromCsv("azimuth,altitude\n90,1\n270,4\n") // { azimuthsDeg: [90, 270], altitudesDeg: [1, 4] }
 */
export function horizonProfileFromCsv(text: string): HorizonProfile {
  const points: HorizonPoint[] = [];
  let mayBeHeader = true;
  text.split(/\r?\n/).forEach((raw, index) => {
    const line = raw.replace(/^\uFEFF/, "").trim();
    if (line === "" || line.startsWith("#")) return;
    const point = readingOf(line);
    if (point !== null) points.push(point);
    else if (!(mayBeHeader && /^"?[a-z]/i.test(line))) {
      throw new DomainError({
        param: `points.line-${index + 1}`,
        given: line.slice(0, 60),
        allowed: "azimuth,altitude or azimuth,altitude,distance as decimal numbers",
      });
    }
    mayBeHeader = false;
  });
  return horizonProfileFromPoints(points);
}

/**
 * Write the profile as text that {@link horizonProfileFromCsv} reads back to the same numbers.
 *
 * @example
 * horizonProfileToCsv({ azimuthsDeg: [90, 270], altitudesDeg: [1, 4] }) // "azimuth,altitude\n90,1\n270,4\n"
 */
export function horizonProfileToCsv(profile: HorizonProfile): string {
  const { azimuthsDeg, altitudesDeg, distancesM } = profile;
  const header = distancesM === undefined ? "azimuth,altitude" : "azimuth,altitude,distance";
  const lines = azimuthsDeg.map((azimuthDeg, i) => {
    const reading = `${azimuthDeg},${altitudesDeg[i]}`;
    return distancesM === undefined ? reading : `${reading},${distancesM[i] ?? ""}`;
  });
  return `${[header, ...lines].join("\n")}\n`;
}

const NUMBER = /^[+-]?(\d+(\.\d*)?|\.\d+)(e[+-]?\d+)?$/i;
/** Longer cells hold no number that anyone measured. */
const LONGEST_CELL = 64;

function isNumber(cell: string): boolean {
  return cell.length <= LONGEST_CELL && NUMBER.test(cell);
}

function readingOf(line: string): HorizonPoint | null {
  const [azimuth, altitude, distance, ...rest] = line.split(",").map((cell) => cell.trim());
  if (azimuth === undefined || altitude === undefined || rest.length > 0) return null;
  if (!isNumber(azimuth) || !isNumber(altitude)) return null;
  const point = { azimuthDeg: Number(azimuth), altitudeDeg: Number(altitude) };
  if (distance === undefined || distance === "") return point;
  return isNumber(distance) ? { ...point, distanceM: Number(distance) } : null;
}
