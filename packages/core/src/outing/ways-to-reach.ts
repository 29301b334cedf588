import { ev100OnCurve } from "../exposure/light-curve";
import type { LightSums } from "../exposure/light-sums";
import { apertureSetting, isoSetting } from "../exposure/settings";
import { stopsWords } from "./approach-reasons";

/** What would reach a wanted time that the bag does not. */
export interface WayToReach {
  readonly code: "filter" | "weaker-filter" | "aperture" | "iso" | "wait" | "shorter";
  readonly text: string;
}

export interface Unreached {
  readonly light: LightSums;
  readonly startMs: number;
  /** How much longer than wanted the nearest time is [stops]; negative for shorter. */
  readonly errorStops: number;
  readonly aperture: number;
  readonly iso: number;
  /** Whether the wanted time is longer than anyone exposes a landscape for. */
  readonly isTooLong: boolean;
}

// Common practice: past f/22 diffraction shows at any size; few lenses open beyond f/2.8, few sensors go under ISO 50
const SMALLEST_APERTURE = 22.7;
const WIDEST_APERTURE = 2.8;
const LOWEST_ISO = 49;
const HIGHEST_ISO = 6500;
const STEP_MS = 60_000;

/** What a photographer would do instead: another filter, aperture or ISO, or wait. */
export function waysToReach({ light, startMs, errorStops, aperture, iso, isTooLong }: Unreached): WayToReach[] {
  const ways: WayToReach[] = [];
  if (isTooLong) {
    ways.push({
      code: "shorter",
      text: "Nobody exposes a landscape for over 15 minutes: take several shorter frames and blend them.",
    });
  }
  const missing = -errorStops;
  if (Math.abs(missing) < 0.25) return ways;
  ways.push(
    missing > 0
      ? { code: "filter", text: `A filter ${stopsWords(missing)} stronger would do.` }
      : { code: "weaker-filter", text: `A filter ${stopsWords(missing)} weaker would do.` },
  );
  const otherAperture = aperture * 2 ** (missing / 2);
  if (otherAperture <= SMALLEST_APERTURE && otherAperture >= WIDEST_APERTURE) {
    ways.push({ code: "aperture", text: `So would ${apertureSetting(otherAperture, "solved").nominal}.` });
  }
  const otherIso = iso / 2 ** missing;
  if (otherIso >= LOWEST_ISO && otherIso <= HIGHEST_ISO) {
    ways.push({ code: "iso", text: `So would ISO ${isoSetting(otherIso, "solved").nominalValue}.` });
  }
  const minutes = missing > 0 ? minutesUntil(light, startMs, missing) : undefined;
  if (minutes !== undefined) {
    ways.push({ code: "wait", text: `In ${minutes} minutes the light will have fallen enough.` });
  }
  return ways;
}

/** Minutes until the light has fallen by so much [stops]; undefined where it does not. */
function minutesUntil({ curve }: LightSums, startMs: number, fallStops: number): number | undefined {
  const wanted = ev100OnCurve(curve, startMs) - fallStops;
  for (let ms = startMs + STEP_MS; ms < curve.endMs; ms += STEP_MS) {
    if (ev100OnCurve(curve, ms) <= wanted) return Math.round((ms - startMs) / STEP_MS);
  }
  return undefined;
}
