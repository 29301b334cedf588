import { sunPosition, sunTrack } from "@fieldstop/core/sky";
import { anywhere, summarise } from "./errors";
import type { Measure } from "./measure";
import { apart, Body, observerAt, referenceDirection } from "./reference";

const MINUTE_MS = 60_000;

function sunBetween(seed: number, count: number, fromYear: number, toYear: number): number[] {
  return anywhere(seed, count, fromYear, toYear).map(({ ms, latitude, longitude }) =>
    apart(sunPosition(ms, { latitude, longitude }), referenceDirection(Body.Sun, ms, observerAt(latitude, longitude))),
  );
}

export const sunMeasures: readonly Measure[] = [
  {
    id: "sun",
    subject: "sun, direction of the centre, 1950 to 2050",
    against: "astronomy-engine",
    unit: "deg",
    measure: () => summarise(sunBetween(11, 3000, 1950, 2050)),
  },
  {
    id: "sun-other-years",
    subject: "sun, direction of the centre, 1900 to 1950 and 2050 to 2100",
    against: "astronomy-engine",
    unit: "deg",
    measure: () => summarise([...sunBetween(12, 500, 1900, 1950), ...sunBetween(13, 500, 2050, 2101)]),
  },
  {
    id: "sun-timeline",
    subject: "sun, track of a day read each 20 min",
    against: "astronomy-engine",
    unit: "deg",
    measure: () =>
      summarise(
        anywhere(14, 20, 1950, 2050).flatMap(({ ms, latitude, longitude }) => {
          const endMs = ms + 24 * 60 * MINUTE_MS;
          const track = sunTrack(ms, endMs, { latitude, longitude });
          const observer = observerAt(latitude, longitude);
          return Array.from({ length: 73 }, (_, i) => ms + i * 20 * MINUTE_MS).map((instantMs) =>
            apart(track(instantMs), referenceDirection(Body.Sun, instantMs, observer)),
          );
        }),
      ),
  },
];
