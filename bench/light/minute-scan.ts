import { dipDeg, sunriseAltitudeDeg } from "@fieldstop/core/almanac";
import type { HorizonProfile } from "@fieldstop/core/horizon";
import { limbAltitudeDeg } from "@fieldstop/core/light";
import { CLOUD_DECK_HEIGHTS_M, cloudLitDownToDeg, HORIZON_REFRACTION_DEG, type SkyPosition } from "@fieldstop/core/sky";

/** Where the bodies stand, instant by instant, by whichever program knows it. */
export interface Ephemeris {
  sun(ms: number): SkyPosition;
  moon(ms: number): { readonly trueAltitudeDeg: number; readonly semidiameterDeg: number };
}

export interface ScanEdge {
  readonly name: string;
  readonly ms: number;
  readonly instant: string;
  readonly azimuthDeg: number;
}

const MINUTE_MS = 60_000;
/** Lower than this no limb shows over a skyline, and none is reckoned [deg]. */
const OUT_OF_SIGHT_DEG = -3;

/**
 * A day's light by the plain way that a careful program takes: where sun and moon stand each minute, and where the straight line between two minutes
 * passes a bound. It finds what findLightWindows finds: dawns and dusks, golden and blue hour, light on cloud, sunrise and sunset, noon, moonrise and
 * moonset, and when either limb of the sun comes over the skyline and goes, each with the sun's azimuth and written out.
 * @param quarters altitude of the skyline each 0.25° from north on [deg], so that none need be sought
 */
export function minuteScan(
  { sun, moon }: Ephemeris,
  startMs: number,
  minutes: number,
  quarters: HorizonProfile["altitudesDeg"],
  eyeHeightM: number,
): ScanEdge[] {
  const bounds = boundsOf(eyeHeightM);
  const names = Object.keys(bounds);
  const altitudes = Object.values(bounds);
  const moonLiftDeg = HORIZON_REFRACTION_DEG + dipDeg(eyeHeightM);
  const [upperAt, lowerAt, noonAt, moonAt] = [0, 1, 2, 3].map((i) => names.length + i) as [
    number,
    number,
    number,
    number,
  ];
  names.push("upper-limb", "lower-limb", "solar-noon", "moonrise-moonset");
  const edges: ScanEdge[] = [];
  let before = new Float64Array(names.length);
  let now = new Float64Array(names.length);
  let azimuthBefore = 0;
  for (let i = 0; i <= minutes; i++) {
    const ms = startMs + i * MINUTE_MS;
    const position = sun(ms);
    const { azimuthDeg, trueAltitudeDeg } = position;
    for (let k = 0; k < altitudes.length; k++) now[k] = trueAltitudeDeg - (altitudes[k] as number);
    if (trueAltitudeDeg < OUT_OF_SIGHT_DEG) {
      now[upperAt] = trueAltitudeDeg;
      now[lowerAt] = trueAltitudeDeg;
    } else {
      const skyline = skylineDeg(quarters, azimuthDeg);
      now[upperAt] = limbAltitudeDeg(position, "upper") - skyline;
      now[lowerAt] = limbAltitudeDeg(position, "lower") - skyline;
    }
    now[noonAt] = azimuthDeg - 180;
    const { trueAltitudeDeg: moonDeg, semidiameterDeg } = moon(ms);
    now[moonAt] = moonDeg + semidiameterDeg + moonLiftDeg;
    if (i > 0) {
      for (let k = 0; k < names.length; k++) {
        const [a, b] = [before[k] as number, now[k] as number];
        // past north the azimuth begins anew: that is midnight, no noon
        if (a > 0 === b > 0 || Math.abs(b - a) > 180) continue;
        const part = a / (a - b);
        const atMs = ms - (1 - part) * MINUTE_MS;
        edges.push({
          name: `${names[k]}, ${b > 0 ? "rising" : "falling"}`,
          ms: atMs,
          instant: new Date(atMs).toISOString(),
          azimuthDeg: azimuthBefore + part * (azimuthDeg - azimuthBefore),
        });
      }
    }
    [before, now] = [now, before];
    azimuthBefore = azimuthDeg;
  }
  return edges;
}

/** True altitudes of the sun at which a light begins or ends [deg]. */
function boundsOf(eyeHeightM: number): Readonly<Record<string, number>> {
  return {
    astronomical: -18,
    nautical: -12,
    civil: -6,
    "blue-golden": -4,
    golden: 6,
    "cloud-low": cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.low),
    "cloud-middle": cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.middle),
    "cloud-high": cloudLitDownToDeg(CLOUD_DECK_HEIGHTS_M.high),
    "sunrise-sunset": sunriseAltitudeDeg(eyeHeightM),
  };
}

function skylineDeg(quarters: HorizonProfile["altitudesDeg"], azimuthDeg: number): number {
  const place = azimuthDeg * 4;
  const node = Math.floor(place);
  const left = quarters[node] as number;
  const right = quarters[node + 1 < quarters.length ? node + 1 : 0] as number;
  return left + (right - left) * (place - node);
}
