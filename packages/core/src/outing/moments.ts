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
  | "sunrise"
  | "first-direct-light"
  | "hour-after-first-light"
  | "lowest-sun"
  | "highest-sun"
  | "shutter-reached"
  | "start"
  | "end";

export interface Moment {
  readonly name: MomentName;
  readonly instantMs: number;
}

/** What a session knows of its light: stretches and crossings within it [Unix ms]. */
export interface SessionLight {
  /** Direct light at what is photographed, in order. */
  readonly directLight: readonly { readonly startMs: number; readonly endMs: number }[];
  /** The almanac's sunrise or sunset. */
  readonly sunriseMs?: number;
  readonly sunsetMs?: number;
  /** When the sun last, or first, strikes the highest cloud there is. */
  readonly cloudLitMs?: number;
  /** When the sun passes the middle of the blue hour, and the bound of civil twilight, rising or falling. */
  readonly blueHourMs?: number;
  readonly civilMs?: number;
  /** Whether the sun is under the level horizon all along. */
  readonly sunStaysDown: boolean;
}

const HOUR_MS = 3_600_000;
const SHORTEST_STRETCH_MS = 1000;

/**
 * Find the moments of a session that a photographer plans by, in order of time: for an evening an hour before the last direct light, that
 * light's end, the almanac's sunset, the middle of the blue hour and its end; for a morning the same backwards; for a span its start and end.
 * What does not happen in the session is left out; where the sun never leaves, its lowest point stands for it, also where the light is kept off all
 * along; where neither sun nor twilight comes, its highest point does. So there is a moment in every session.
 */
export function keyMoments(span: SessionSpan, light: SessionLight): Moment[] {
  const moments: Moment[] = [];
  const add = (name: MomentName, instantMs: number | undefined): void => {
    if (instantMs !== undefined && instantMs >= span.startMs && instantMs <= span.endMs)
      moments.push({ name, instantMs });
  };
  // a sliver is the edge of a stretch outside the session: a wall that faces east is lit until the noon that an evening starts at
  const stretches = light.directLight.filter(({ startMs, endMs }) => endMs - startMs >= SHORTEST_STRETCH_MS);
  const first = stretches[0]?.startMs;
  const last = stretches.at(-1)?.endMs;
  if (span.part === "evening") {
    if (last === span.endMs) {
      // the sun does not leave: its lowest point is the moment
      add("lowest-sun", last);
    } else {
      add("hour-before-last-light", last === undefined ? undefined : last - HOUR_MS);
      add("last-direct-light", last);
    }
    add("sunset", light.sunsetMs);
    add("cloud-lit-end", light.cloudLitMs);
    add("blue-hour", light.blueHourMs);
    add("civil-dusk", light.civilMs);
  } else if (span.part === "morning") {
    add("civil-dawn", light.civilMs);
    add("cloud-lit-start", light.cloudLitMs);
    add("blue-hour", light.blueHourMs);
    add("sunrise", light.sunriseMs);
    if (first === span.startMs) {
      add("lowest-sun", first);
    } else {
      add("first-direct-light", first);
      add("hour-after-first-light", first === undefined ? undefined : first + HOUR_MS);
    }
  } else {
    add("start", span.startMs);
    // light that is there at the start, or still there at the end, neither comes nor goes in the span
    add("first-direct-light", first === span.startMs ? undefined : first);
    add("last-direct-light", last === span.endMs ? undefined : last);
    add("sunrise", light.sunriseMs);
    add("sunset", light.sunsetMs);
    add("blue-hour", light.blueHourMs);
    add("end", span.endMs);
  }
  if (moments.length === 0) moments.push(extremeOf(span, light));
  return moments.sort((a, b) => a.instantMs - b.instantMs);
}

/** An evening begins at the sun's highest point and ends at its lowest; a morning the other way round. */
function extremeOf({ part, startMs, endMs }: SessionSpan, { sunStaysDown }: SessionLight): Moment {
  const atStart = (part === "evening") === sunStaysDown;
  return { name: sunStaysDown ? "highest-sun" : "lowest-sun", instantMs: atStart ? startMs : endMs };
}
