import type { HorizonReport, LightWindows } from "@fieldstop/core";

/** A moment at which the skyline cuts the sun's path. */
export interface Cut {
  readonly instant: string;
  readonly azimuthDeg: number;
  /** The sun comes out, or goes. */
  readonly comes: boolean;
}

/** The edges of direct light that the skyline or the horizon makes; a day that begins or ends in the sun has no cut there. */
export function cutsOf({ directLight }: LightWindows): Cut[] {
  return directLight.intervals.flatMap(({ start, end, startCause, endCause, startAzimuthDeg, endAzimuthDeg }) => [
    ...(startCause === "day-boundary" ? [] : [{ instant: start, azimuthDeg: startAzimuthDeg, comes: true }]),
    ...(endCause === "day-boundary" ? [] : [{ instant: end, azimuthDeg: endAzimuthDeg, comes: false }]),
  ]);
}

/** Hours and minutes as a clock shows them. */
const clockTime = (instant: string): string => instant.slice(11, 16);

/** A cut as it stands over the strip. */
export const labelOf = ({ instant, azimuthDeg, comes }: Cut): string =>
  `${comes ? "↑" : "↓"} ${clockTime(instant)} · ${Math.round(azimuthDeg) % 360}°`;

/** Says what the dashes along the foot of the strip are. */
const FOOT_NOTE = "Dashed foot: elevation data is missing there";

/** Azimuths [deg], from and to, at which missing data could raise the skyline. */
export function doubtfulRanges({ missingTiles = [] }: HorizonReport): readonly (readonly [number, number])[] {
  return missingTiles.flatMap(({ azimuthsDeg }) => azimuthsDeg);
}

/** What stands under the strip: how to read it where something is missing from it. */
export function footNotes({ horizon }: LightWindows, unnamedCuts: number): string[] {
  return [
    ...(unnamedCuts === 0 ? [] : [`${unnamedCuts} more cuts are marked without their times`]),
    ...(doubtfulRanges(horizon).length === 0 ? [] : [FOOT_NOTE]),
  ];
}

/** The day in phrases, the weightiest first. */
export function summaryOf({ directLight, polar, horizon }: LightWindows): string[] {
  const { intervals, firstInstant, lastInstant, minutesLostToTerrain } = directLight;
  if (firstInstant === null || lastInstant === null)
    return [polar === "night" ? "The sun does not rise" : "No direct light"];
  const span =
    intervals.length === 1 && intervals[0]?.startCause === "day-boundary" && intervals[0].endCause === "day-boundary"
      ? "Direct light all day"
      : `Direct light ${clockTime(firstInstant)}–${clockTime(lastInstant)}`;
  const lost = Math.round(minutesLostToTerrain);
  const cost =
    horizon.kind === "flat" ? "sea horizon" : lost === 0 ? "terrain takes none" : `terrain takes ${lost} min`;
  return [span, cost];
}

/** The strip in words, for those who do not see it. */
export function describeStrip(light: LightWindows, cuts: readonly Cut[], centreDeg: number): string {
  const { horizon, timeZone } = light;
  const middle = centreDeg === 180 ? "south" : "north";
  const when = cuts.map(
    ({ instant, azimuthDeg, comes }) =>
      `${comes ? "comes out" : "goes"} at ${instant.slice(11, 19)}, azimuth ${azimuthDeg.toFixed(1)}°`,
  );
  const source =
    horizon.kind === "flat"
      ? "A sea horizon; no terrain is reckoned with."
      : `Skyline: ${horizon.source ?? "as given"}.`;
  const doubt = doubtfulRanges(horizon).length === 0 ? "" : ` ${FOOT_NOTE}.`;
  return `The horizon all round, ${middle} in the middle, altitudes drawn closer together the higher they are. ${summaryOf(light).join(", ")}. ${when.length === 0 ? "The skyline never cuts the sun's path." : `The sun ${when.join("; ")}.`} Times of ${timeZone}. ${source}${doubt}`;
}
