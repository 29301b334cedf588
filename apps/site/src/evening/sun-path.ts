import type { LightWindows } from "@fieldstop/sdk";
import type { Spot } from "../club";
import { instantLike, msOf } from "../words/place-time";
import type { Evening } from "./evening";
import { sunAt } from "./reckon";

/** The sun at one instant of its way. */
export interface SunStep {
  readonly instant: string;
  readonly azimuthDeg: number;
  readonly altitudeDeg: number;
  /** Whether it shines on the spot. */
  readonly shining: boolean;
}

const STEP_MS = 10 * 60_000;
const HOUR_MS = 3_600_000;

/** The sun's way each ten minutes: the hours before it sets and the dusk after, the dawn before it rises and the hours after, or round its lowest point. */
export async function sunPath({ spot, timeZone, light }: Evening): Promise<SunStep[]> {
  const span = spanOf(light, spot.part);
  if (span === null) return [];
  const like = light.events[0]?.instant ?? light.directLight.firstInstant ?? "Z";
  const instants: string[] = [];
  for (let ms = Math.ceil(span.fromMs / STEP_MS) * STEP_MS; ms <= span.toMs; ms += STEP_MS) {
    instants.push(instantLike(like, ms));
  }
  return Promise.all(
    instants.map(async (instant) => {
      const { azimuthDeg, altitudeDeg } = await sunAt({ ...light.place, timeZone }, instant);
      return { instant, azimuthDeg, altitudeDeg, shining: isShining(light, instant) };
    }),
  );
}

export function isShining({ directLight }: LightWindows, instant: string): boolean {
  const ms = msOf(instant);
  return directLight.intervals.some(({ start, end }) => msOf(start) <= ms && ms <= msOf(end));
}

function spanOf(light: LightWindows, part: Spot["part"]): { fromMs: number; toMs: number } | null {
  const at = (name: string): number | undefined => {
    const found = light.events.find((event) => event.name === name);
    return found === undefined ? undefined : msOf(found.instant);
  };
  const edgeMs = part === "evening" ? at("sunset") : at("sunrise");
  const noonMs = at("solar-noon");
  if (edgeMs !== undefined) {
    return part === "evening"
      ? { fromMs: edgeMs - 4 * HOUR_MS, toMs: edgeMs + 1.25 * HOUR_MS }
      : { fromMs: edgeMs - 1.25 * HOUR_MS, toMs: edgeMs + 4 * HOUR_MS };
  }
  if (noonMs === undefined) return null;
  // no sunset: an evening runs down to the lowest sun, round midnight
  if (light.polar === "day") {
    return part === "evening"
      ? { fromMs: noonMs + 8 * HOUR_MS, toMs: noonMs + 13 * HOUR_MS }
      : { fromMs: noonMs - 13 * HOUR_MS, toMs: noonMs - 8 * HOUR_MS };
  }
  return { fromMs: noonMs - 2 * HOUR_MS, toMs: noonMs + 2 * HOUR_MS };
}
