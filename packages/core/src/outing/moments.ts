import type { SessionSpan } from "./session";

export type MomentName =
  | "hour-before-last-light"
  | "last-direct-light"
  | "sunset"
  | "cloud-lit-end"
  | "cloud-lit-start"
  | "blue-hour"
  | "civil-dusk"
  | "civil-dawn"
  | "nautical-dusk"
  | "nautical-dawn"
  | "astronomical-dusk"
  | "astronomical-dawn"
  | "sunrise"
  | "first-direct-light"
  | "hour-after-first-light"
  | "low-sun-start"
  | "low-sun-end"
  | "lowest-sun"
  | "highest-sun"
  | "moonrise"
  | "moon-highest"
  | "moonset"
  | "shutter-reached"
  | "start"
  | "end";

export interface Moment {
  readonly name: MomentName;
  readonly instantMs: number;
}

/** When the sun passes an altitude [Unix ms]. */
export interface Passes {
  readonly risingMs?: number | undefined;
  readonly fallingMs?: number | undefined;
}

/** What a session knows of its light: stretches and crossings within it [Unix ms]. */
export interface SessionLight {
  /** Direct light at what is photographed, in order. */
  readonly directLight: readonly { readonly startMs: number; readonly endMs: number }[];
  /** The almanac's horizon. */
  readonly horizon: Passes;
  /** The sun's altitude at which the golden hour begins or ends. */
  readonly lowSun: Passes;
  /** When the sun last, or first, strikes the highest cloud there is. */
  readonly cloudLit: Passes;
  readonly middleOfBlueHour: Passes;
  readonly civil: Passes;
  readonly nautical: Passes;
  readonly astronomical: Passes;
  /** The moon over the skyline, and highest, while it is dark. */
  readonly moonriseMs?: number | undefined;
  readonly moonHighestMs?: number | undefined;
  readonly moonsetMs?: number | undefined;
  readonly sunLowestMs: number;
  readonly sunHighestMs: number;
  /** Whether the sun is under the level horizon all along. */
  readonly sunStaysDown: boolean;
}

const HOUR_MS = 3_600_000;
const SHORTEST_STRETCH_MS = 1000;
// Our own choice: where even the lowest sun is high, the light is at its softest two hours round it
const ROUND_LOWEST_MS = 2 * HOUR_MS;

/**
 * Find the moments of a session that a photographer plans by, in order of time. An evening has an hour before the last direct light, that light's
 * end, the almanac's sunset, the middle of the blue hour and its end; a morning the same backwards. A midnight sun has the low sun on both sides of its
 * lowest point; polar night the twilight round noon. A span has its start and end and all that happens in it, the moon over the ridge among it.
 * What does not happen in the session is left out; there is always a moment.
 */
export function keyMoments(span: SessionSpan, light: SessionLight): Moment[] {
  const moments: Moment[] = [];
  const add = (name: MomentName, instantMs: number | undefined): void => {
    if (instantMs !== undefined && instantMs >= span.startMs && instantMs <= span.endMs)
      moments.push({ name, instantMs });
  };
  ADD[span.part](span, light, add);
  if (moments.length === 0) {
    if (light.sunStaysDown) add("highest-sun", light.sunHighestMs);
    else add("lowest-sun", light.sunLowestMs);
  }
  return moments.sort((a, b) => a.instantMs - b.instantMs);
}

type Add = (name: MomentName, instantMs: number | undefined) => void;
type AddMoments = (span: SessionSpan, light: SessionLight, add: Add) => void;

const ADD: Readonly<Record<SessionSpan["part"], AddMoments>> = {
  evening: addEvening,
  morning: addMorning,
  "midnight-sun": addMidnightSun,
  "polar-night": addPolarNight,
  span: addSpan,
};

function addEvening(span: SessionSpan, light: SessionLight, add: Add): void {
  const { last } = edges(span, light);
  add("hour-before-last-light", last === undefined ? undefined : last - HOUR_MS);
  add("last-direct-light", last);
  add("sunset", light.horizon.fallingMs);
  add("cloud-lit-end", light.cloudLit.fallingMs);
  add("blue-hour", light.middleOfBlueHour.fallingMs);
  add("civil-dusk", light.civil.fallingMs);
  // a white night: the darkest it gets
  if (light.civil.fallingMs === undefined) add("lowest-sun", light.sunLowestMs);
}

function addMorning(span: SessionSpan, light: SessionLight, add: Add): void {
  const { first } = edges(span, light);
  if (light.civil.risingMs === undefined) add("lowest-sun", light.sunLowestMs);
  add("civil-dawn", light.civil.risingMs);
  add("cloud-lit-start", light.cloudLit.risingMs);
  add("blue-hour", light.middleOfBlueHour.risingMs);
  add("sunrise", light.horizon.risingMs);
  add("first-direct-light", first);
  add("hour-after-first-light", first === undefined ? undefined : first + HOUR_MS);
}

function addMidnightSun(_span: SessionSpan, light: SessionLight, add: Add): void {
  const startMs = light.lowSun.fallingMs ?? light.sunLowestMs - ROUND_LOWEST_MS;
  const endMs = light.lowSun.risingMs ?? light.sunLowestMs + ROUND_LOWEST_MS;
  add("low-sun-start", startMs);
  add("lowest-sun", light.sunLowestMs);
  add("low-sun-end", endMs);
  // what the ridge does to it
  const isInside = (ms: number): boolean => ms > startMs && ms < endMs;
  const ends = light.directLight.filter(({ endMs: ms }) => isInside(ms));
  const starts = light.directLight.filter(({ startMs: ms }) => isInside(ms));
  add("last-direct-light", ends[0]?.endMs);
  add("first-direct-light", starts.at(-1)?.startMs);
}

function addPolarNight(_span: SessionSpan, { civil, nautical, sunHighestMs }: SessionLight, add: Add): void {
  if (civil.risingMs !== undefined) {
    add("civil-dawn", civil.risingMs);
    add("civil-dusk", civil.fallingMs);
  } else {
    add("nautical-dawn", nautical.risingMs);
    add("nautical-dusk", nautical.fallingMs);
  }
  add("highest-sun", sunHighestMs);
}

function addSpan(span: SessionSpan, light: SessionLight, add: Add): void {
  const { first, last } = edges(span, light);
  add("start", span.startMs);
  // light that is there at the start, or still there at the end, neither comes nor goes in the span
  add("first-direct-light", first);
  add("last-direct-light", last);
  for (const [rising, falling, passes] of SPAN_PASSES) {
    add(rising, light[passes].risingMs);
    add(falling, light[passes].fallingMs);
  }
  add("moonrise", light.moonriseMs);
  add("moon-highest", light.moonHighestMs);
  add("moonset", light.moonsetMs);
  add("end", span.endMs);
}

const SPAN_PASSES = [
  ["sunrise", "sunset", "horizon"],
  ["cloud-lit-start", "cloud-lit-end", "cloudLit"],
  ["blue-hour", "blue-hour", "middleOfBlueHour"],
  ["civil-dawn", "civil-dusk", "civil"],
  ["astronomical-dawn", "astronomical-dusk", "astronomical"],
] as const;

/** When direct light first comes and last goes within the span. A sliver is the edge of a stretch outside: a wall that faces east is lit until noon. */
function edges({ startMs, endMs }: SessionSpan, { directLight }: SessionLight): { first?: number; last?: number } {
  const stretches = directLight.filter((lit) => lit.endMs - lit.startMs >= SHORTEST_STRETCH_MS);
  const first = stretches[0]?.startMs;
  const last = stretches.at(-1)?.endMs;
  return {
    ...(first === undefined || first <= startMs ? {} : { first }),
    ...(last === undefined || last >= endMs ? {} : { last }),
  };
}
