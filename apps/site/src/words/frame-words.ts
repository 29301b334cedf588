import type { ObstacleClearance } from "@fieldstop/sdk";
import type { ReckonedFrame } from "../frame/reckon-frame";
import { approachInWords, stops } from "./approach-words";
import { bearingInWords } from "./bearing";
import { clockOf } from "./place-time";

/** The frame in words, as a live region says it when it has come to rest. */
export function frameInWords(reckoned: ReckonedFrame): string {
  const { state, instant, seen, moment } = reckoned;
  const tilt =
    state.pitchDeg === 0 ? "" : `, tilted ${Math.abs(state.pitchDeg)}° ${state.pitchDeg > 0 ? "up" : "down"}`;
  const stone = foregroundInWords(reckoned);
  return [
    `${clockOf(instant)}, looking ${bearingInWords(state.azimuthDeg)}, ${Math.round(state.azimuthDeg)}°${tilt}, at ${state.focalLengthMm} mm.`,
    sunInWords(seen.sun),
    `Sky is ${Math.round(seen.skyPercent)} % of the frame.`,
    contrastInWords(reckoned),
    `${approachInWords(moment)}.`,
    ...(stone === null ? [] : [stone]),
  ].join(" ");
}

export function sunInWords({ altitudeDeg, azimuthDeg, aboveSkyline, inFrame }: ReckonedFrame["seen"]["sun"]): string {
  const where = `${bearingInWords(azimuthDeg)}, ${Math.round(azimuthDeg)}°`;
  if (altitudeDeg < -0.9) return `The sun is ${Math.abs(altitudeDeg).toFixed(1)}° below the horizon in the ${where}.`;
  const high = `${Math.max(0, altitudeDeg).toFixed(1)}° high in the ${where}`;
  if (!aboveSkyline) return `The sun is behind the ridge, ${high}${inFrame ? ", in the frame" : ""}.`;
  return `The sun shines ${high}, ${inFrame ? "in the frame" : "out of the frame"}.`;
}

export function contrastInWords({ moment }: ReckonedFrame): string {
  const { contrastStops } = moment;
  const size = stops(Number(Math.abs(contrastStops).toFixed(1)));
  return contrastStops >= 0 ? `The sky is ${size} over the ground.` : `The ground is ${size} over the sky.`;
}

/** From what height the stone leaves the ridge open, and how it stands now. */
export function foregroundInWords({ state, foreground }: ReckonedFrame): string | null {
  if (foreground === null) return null;
  const range = foreground.ranges.find(({ fromM, toM }) => fromM <= state.tripodM && state.tripodM <= toM);
  return `${STATES[range?.state ?? "partly"]} at ${metres(state.tripodM)}. ${clearsInWords(foreground)}`;
}

const STATES: Readonly<Record<ObstacleClearance["ranges"][number]["state"], string>> = {
  clear: "The ridge stands clear over the stone",
  "framed-under": "The ridge stands under the stone",
  hidden: "The stone cuts into the ridge",
  partly: "The stone touches the ridge",
};

function clearsInWords({ clears }: ObstacleClearance): string {
  if (clears.kind === "always") return "It is clear at every height of the tripod.";
  if (clears.kind === "between") return `It is clear from ${metres(clears.fromM)} to ${metres(clears.toM)}.`;
  return clears.nearestM === null ? "No height clears it." : `It would be clear from ${metres(clears.nearestM)}.`;
}

export function metres(value: number): string {
  return `${value.toFixed(2)} m`;
}
