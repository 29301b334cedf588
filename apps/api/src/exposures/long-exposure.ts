import { type Assumption, ev100OfReading, solveLongExposure } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import type { LongExposure, LongExposureInput } from "../schemas/long-exposure";
import type { Services } from "../services";
import { courseOfLight } from "./course-of-light";
import { throughFilters } from "./through-filters";

/** The long exposure that a request asks for, its instants written in the zone of the place or of the readings. */
export function longExposureFor(
  services: Services,
  asked: z.output<typeof LongExposureInput>,
): z.output<typeof LongExposure> {
  const { aperture, iso, compensationStops, wantedShutterSeconds, reciprocity } = asked;
  const { source, light, startMs, clock, assumptions: ofLight } = courseOfLight(services, asked);
  const ofMeter: Assumption[] = [];
  const metered = asked.ev100 ?? asked.luminanceCdPerM2 ?? asked.illuminanceLux;
  const meteredEv100 = metered === undefined ? undefined : ev100OfReading(asked, ofMeter);
  const settings = { aperture, iso, compensationStops, wantedShutterSeconds, reciprocity };
  const {
    answer: long,
    attenuationStops,
    assumptions: ofFilters,
    cautions,
  } = throughFilters(asked.filters, (stops) =>
    solveLongExposure({ ...settings, light, startMs, meteredEv100, attenuationStops: stops }),
  );

  const { corrected, wanted } = long;
  return {
    instant: clock.format(startMs),
    ev100: long.ev100,
    attenuationStops,
    naive: long.naive,
    steadyOnFilm: long.steadyOnFilm,
    corrected:
      corrected.kind === "reached"
        ? { kind: "reached", shutter: corrected.shutter, end: clock.format(corrected.endMs) }
        : {
            kind: "not-reached",
            knownUntil: clock.format(corrected.knownUntilMs),
            gatheredStops: corrected.gatheredStops,
          },
    errorStops: long.errorStops,
    stopsPerMinute: long.stopsPerMinute,
    wanted:
      wanted === undefined
        ? undefined
        : {
            shutter: wanted.shutter,
            errorStops: wanted.errorStops,
            latestStart:
              wanted.latestStart.kind === "at"
                ? { kind: "at", instant: clock.format(wanted.latestStart.startMs) }
                : wanted.latestStart,
            comesAbout:
              wanted.comesAbout.kind === "crosses"
                ? {
                    kind: "crosses",
                    moments: wanted.comesAbout.moments.map(({ startMs: atMs, direction }) => ({
                      instant: clock.format(atMs),
                      direction,
                    })),
                  }
                : wanted.comesAbout,
          },
    light: { source, knownUntil: clock.format(light.endMs), shiftStops: long.curveShiftStops },
    assumptions: [...ofFilters, ...ofLight, ...ofMeter, ...long.assumptions],
    cautions: [...cautions],
  };
}
