import { moonPhase, moonPosition, moonTrack } from "@fieldstop/core/sky";
import { Illumination, KM_PER_AU } from "astronomy-engine";
import { findRoot } from "../../packages/core/src/roots";
import sun from "../golden/sun.json";
import { anywhere, summarise } from "./errors";
import type { Measure } from "./measure";
import { apart, at, Body, observerAt, referenceDirection } from "./reference";

const MINUTE_MS = 60_000;
const DAY_MS = 1440 * MINUTE_MS;
const QUARTERS = ["new", "first quarter", "full", "last quarter"];

export const moonMeasures: readonly Measure[] = [
  {
    id: "moon",
    subject: "moon, direction of the centre, 1950 to 2050",
    against: "astronomy-engine",
    unit: "deg",
    measure: () =>
      summarise(
        anywhere(21, 2000, 1950, 2050).map(({ ms, latitude, longitude }) =>
          apart(
            moonPosition(ms, { latitude, longitude }),
            referenceDirection(Body.Moon, ms, observerAt(latitude, longitude)),
          ),
        ),
      ),
  },
  {
    id: "moon-other-years",
    subject: "moon, direction of the centre, 1900 to 1950 and 2050 to 2100",
    against: "astronomy-engine",
    unit: "deg",
    measure: () =>
      summarise(
        [...anywhere(22, 500, 1900, 1950), ...anywhere(23, 500, 2050, 2101)].map(({ ms, latitude, longitude }) =>
          apart(
            moonPosition(ms, { latitude, longitude }),
            referenceDirection(Body.Moon, ms, observerAt(latitude, longitude)),
          ),
        ),
      ),
  },
  {
    id: "moon-timeline",
    subject: "moon, track of a day read each 20 min",
    against: "astronomy-engine",
    unit: "deg",
    measure: () =>
      summarise(
        anywhere(24, 20, 1950, 2050).flatMap(({ ms, latitude, longitude }) => {
          const track = moonTrack(ms, ms + DAY_MS, { latitude, longitude });
          const observer = observerAt(latitude, longitude);
          return Array.from({ length: 73 }, (_, i) => ms + i * 20 * MINUTE_MS).map((instantMs) =>
            apart(track(instantMs), referenceDirection(Body.Moon, instantMs, observer)),
          );
        }),
      ),
  },
  {
    id: "moon-distance",
    subject: "moon, distance, 1950 to 2050",
    against: "astronomy-engine",
    unit: "km",
    measure: () =>
      summarise(
        anywhere(25, 500, 1950, 2050).map(
          ({ ms }) =>
            moonPosition(ms, { latitude: 0, longitude: 0 }).distanceKm -
            Illumination(Body.Moon, at(ms)).geo_dist * KM_PER_AU,
        ),
      ),
  },
  {
    id: "moon-fraction",
    subject: "moon, lit fraction, 1950 to 2050",
    against: "astronomy-engine",
    unit: "1",
    measure: () =>
      summarise(
        anywhere(26, 500, 1950, 2050).map(
          ({ ms }) => moonPhase(ms).illuminatedFraction - Illumination(Body.Moon, at(ms)).phase_fraction,
        ),
      ),
  },
  {
    id: "moon-phases",
    subject: "instants of the moon's quarters, 2000 to 2050",
    against: "US Naval Observatory, whole minutes",
    unit: "s",
    measure: () =>
      summarise(
        (sun as readonly { id: string; inputs: { phase?: string }; expected: unknown }[])
          .filter(({ id }) => id.startsWith("usno.phase."))
          .map(({ inputs, expected }) => {
            const phase = QUARTERS.indexOf(inputs.phase as string) / 4;
            const printedMs = Date.parse(expected as string);
            const past = (ms: number): number => ((moonPhase(ms).phase - phase + 1.5) % 1) - 0.5;
            return (findRoot(past, printedMs - DAY_MS, printedMs + DAY_MS, 10) - printedMs) / 1000;
          }),
      ),
  },
];
