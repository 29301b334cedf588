import {
  altitudeExtremes,
  dayEvents,
  findAltitudeCrossings,
  type SkyEventName,
  sunriseAltitudeDeg,
} from "@fieldstop/core/almanac";
import { sunTrack } from "@fieldstop/core/sky";
import { type Observer, SearchAltitude, SearchHourAngle, SearchRiseSet } from "astronomy-engine";
import { anywhere, seeded, summarise } from "./errors";
import type { Measure, Measurement } from "./measure";
import { at, Body, observerAt, referenceDirection } from "./reference";

const MINUTE_MS = 60_000;
const DAY_MS = 1440 * MINUTE_MS;

/** Days at places up to 65° of latitude, over all the years that core answers for. */
function days(seed: number, count: number): { startMs: number; latitude: number; longitude: number }[] {
  return anywhere(seed, count, 1900, 2101).map(({ ms, latitude, longitude }) => ({
    startMs: Math.floor(ms / DAY_MS) * DAY_MS,
    latitude: latitude * (65 / 90),
    longitude,
  }));
}

/** Every time that the reference has of one thing in a day. */
function repeated(find: (fromMs: number, days: number) => Date | undefined, startMs: number): number[] {
  const found: number[] = [];
  let fromMs = startMs;
  for (;;) {
    const next = find(fromMs, (startMs + DAY_MS - fromMs) / DAY_MS)?.getTime();
    if (next === undefined || next >= startMs + DAY_MS) return found;
    found.push(next);
    fromMs = next + MINUTE_MS;
  }
}

/** Errors [s] of the events of one name; an event that is missing or too many fails the measurement. */
function eventErrors(name: SkyEventName, ours: readonly number[], reference: readonly number[]): number[] {
  if (ours.length !== reference.length) {
    throw new Error(`${name}: ${ours.map(String)} where the reference has ${reference.map(String)}`);
  }
  return ours.map((ms, i) => (ms - (reference[i] as number)) / 1000);
}

type Event = readonly [
  rising: SkyEventName,
  falling: SkyEventName,
  find: (observer: Observer, direction: 1 | -1) => (fromMs: number, limitDays: number) => Date | undefined,
];

const sunAt = (altitudeDeg: number) => (observer: Observer, direction: 1 | -1) => (fromMs: number, limitDays: number) =>
  SearchAltitude(Body.Sun, observer, direction, at(fromMs), limitDays, altitudeDeg)?.date;

const moonRise = (observer: Observer, direction: 1 | -1) => (fromMs: number, limitDays: number) =>
  SearchRiseSet(Body.Moon, observer, direction, at(fromMs), limitDays)?.date;

/** Errors [s] of all events of these kinds on some days. */
function errorsOf(events: readonly Event[], seed: number, count: number): number[] {
  return days(seed, count).flatMap(({ startMs, latitude, longitude }) => {
    const found = dayEvents(startMs, startMs + DAY_MS, { latitude, longitude }).events;
    const observer = observerAt(latitude, longitude);
    return events.flatMap(([rising, falling, find]) =>
      ([1, -1] as const).flatMap((direction) => {
        const name = direction === 1 ? rising : falling;
        const ours = found.filter((event) => event.name === name).map(({ instantMs }) => instantMs);
        return eventErrors(name, ours, repeated(find(observer, direction), startMs));
      }),
    );
  });
}

/**
 * Whether the sun passes an altitude on days on which it only just does or does not, at 60° to 80°. An error of 1 is an event too many or
 * too few. Days are sought by the culmination: within 0.05° of the altitude, and not within the 0.001° that the two ephemerides leave open.
 */
function grazing(): Measurement {
  const random = seeded(33);
  const errors: number[] = [];
  while (errors.length < 200) {
    const latitude = (60 + 20 * random()) * (random() < 0.5 ? -1 : 1);
    const longitude = 360 * random() - 180;
    const startMs = Math.floor((Date.UTC(1900, 0, 1) + random() * 200 * 365.25 * DAY_MS) / DAY_MS) * DAY_MS;
    const endMs = startMs + DAY_MS;
    const altitudeDeg = [sunriseAltitudeDeg(0), -6, -12, -18][Math.floor(random() * 4)] as number;
    const track = sunTrack(startMs, endMs, { latitude, longitude });
    const observer = observerAt(latitude, longitude);
    const extremes = altitudeExtremes(track, startMs, endMs);
    const close = extremes.find(({ instantMs }) => Math.abs(track(instantMs).trueAltitudeDeg - altitudeDeg) < 0.05);
    if (close === undefined) continue;
    const reference = (ms: number): number => referenceDirection(Body.Sun, ms, observer).trueAltitudeDeg - altitudeDeg;
    const { instantMs, kind } = close;
    const sign = kind === "highest" ? 1 : -1;
    let top = -Infinity;
    for (let ms = instantMs - 5 * MINUTE_MS; ms <= instantMs + 5 * MINUTE_MS; ms += MINUTE_MS / 2) {
      top = Math.max(top, sign * reference(ms));
    }
    if (Math.abs(top) < 0.001) continue;
    // one crossing on either side of the culmination if it goes beyond the altitude, none if not
    const from = Math.max(startMs, instantMs - 2 * 60 * MINUTE_MS);
    const to = Math.min(endMs, instantMs + 2 * 60 * MINUTE_MS);
    const crossings = findAltitudeCrossings(track, from, to, altitudeDeg);
    const found = crossings.kind === "crosses" ? crossings.crossings.length : 0;
    const beyondAtEnds = [from, to].filter((ms) => sign * reference(ms) > 0).length;
    errors.push(found - (top > 0 ? 2 - beyondAtEnds : 0));
  }
  return summarise(errors);
}

export const dayEventMeasures: readonly Measure[] = [
  {
    id: "sunrise-sunset",
    subject: "sunrise and sunset, up to 65°, 1900 to 2100",
    against: "astronomy-engine, SearchAltitude",
    unit: "s",
    measure: () => summarise(errorsOf([["sunrise", "sunset", sunAt(sunriseAltitudeDeg(0))]], 31, 150)),
  },
  {
    id: "twilight",
    subject: "civil, nautical and astronomical dawn and dusk, up to 65°, 1900 to 2100",
    against: "astronomy-engine, SearchAltitude",
    unit: "s",
    measure: () =>
      summarise(
        errorsOf(
          [
            ["civil-dawn", "civil-dusk", sunAt(-6)],
            ["nautical-dawn", "nautical-dusk", sunAt(-12)],
            ["astronomical-dawn", "astronomical-dusk", sunAt(-18)],
          ],
          32,
          100,
        ),
      ),
  },
  {
    id: "grazing-days",
    subject: "days on which the sun just does or does not pass an altitude, 60° to 80°",
    against: "astronomy-engine, sampled",
    unit: "wrong events",
    measure: grazing,
  },
  {
    id: "moonrise-moonset",
    subject: "moonrise and moonset, up to 65°, 1900 to 2100",
    against: "astronomy-engine, SearchRiseSet",
    unit: "s",
    measure: () => summarise(errorsOf([["moonrise", "moonset", moonRise]], 34, 100)),
  },
  {
    id: "solar-noon",
    subject: "solar noon, 1900 to 2100",
    against: "astronomy-engine, SearchHourAngle",
    unit: "s",
    measure: () =>
      summarise(
        anywhere(35, 60, 1900, 2101).flatMap(({ ms, latitude, longitude }) => {
          const { events } = dayEvents(ms, ms + DAY_MS, { latitude, longitude });
          const ours = events.filter(({ name }) => name === "solar-noon").map(({ instantMs }) => instantMs);
          const reference = repeated(
            (fromMs) => SearchHourAngle(Body.Sun, observerAt(latitude, longitude), 0, at(fromMs), 1).time.date,
            ms,
          );
          return eventErrors("solar-noon", ours, reference);
        }),
      ),
  },
];
