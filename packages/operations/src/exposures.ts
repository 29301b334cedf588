import { DomainError } from "@fieldstop/core/domain-error";
import {
  type EquivalentsRequest as CoreEquivalentsRequest,
  type ExposureRequest as CoreExposureRequest,
  type LongExposureRequest as CoreLongExposureRequest,
  ev100OfReading,
  listEquivalents as list,
  type MeterReading,
  solveExposure as solve,
  solveLongExposure as solveLong,
} from "@fieldstop/core/exposure";
import type { Filter } from "@fieldstop/core/filters";
import type { Assumption } from "@fieldstop/core/notes";
import { type CourseOfLightRequest, courseOfLight } from "./course-of-light";
import type { Dependencies } from "./dependencies";
import { rounded } from "./rounding";
import { throughFilters } from "./through-filters";

/** The light, two settings, and what is on the lens. */
export interface ExposureRequest extends Omit<CoreExposureRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The third of aperture, shutter time and ISO. */
export function solveExposure({ filters, ...exposure }: ExposureRequest) {
  const { answer, assumptions, cautions } = throughFilters(filters, (attenuationStops) =>
    solve(Object.assign(exposure, { attenuationStops })),
  );
  return rounded(Object.assign(answer, { assumptions: [...assumptions, ...answer.assumptions], cautions }));
}

/** An exposure, and what is on the lens. */
export interface EquivalentsRequest extends Omit<CoreEquivalentsRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The settings that expose alike, rung by rung. */
export function listEquivalents({ filters, ...request }: EquivalentsRequest) {
  const { answer, assumptions, cautions } = throughFilters(filters, (attenuationStops) =>
    list(Object.assign(request, { attenuationStops })),
  );
  return rounded(Object.assign(answer, { assumptions: [...assumptions, ...answer.assumptions], cautions }));
}

/** The shutter time that gathers the light while the light changes. */
export function solveLongExposure(dependencies: Dependencies, request: LongExposureRequest) {
  return rounded(longExposureFor(dependencies, request));
}

/** Settings, filters and the light of a long exposure. */
export interface LongExposureRequest extends CourseOfLightRequest, MeterReading {
  readonly aperture: number;
  readonly iso: number;
  readonly filters?: readonly Filter[] | undefined;
  readonly compensationStops?: number | undefined;
  readonly wantedShutterSeconds?: number | undefined;
  readonly reciprocity?: CoreLongExposureRequest["reciprocity"];
}

/** The long exposure that a request asks for, its instants written in the zone of the place or of the readings. */
export function longExposureFor(dependencies: Dependencies, request: LongExposureRequest) {
  const { aperture, iso, compensationStops, wantedShutterSeconds, reciprocity } = request;
  const { source, light, startMs, clock, assumptions: ofLight } = courseOfLight(dependencies, request);
  const ofMeter: Assumption[] = [];
  const metered = request.ev100 ?? request.luminanceCdPerM2 ?? request.illuminanceLux;
  const meteredEv100 = metered === undefined ? undefined : ev100OfReading(request, ofMeter);
  const settings = { aperture, iso, compensationStops, wantedShutterSeconds, reciprocity };
  const {
    answer: long,
    attenuationStops,
    assumptions: ofFilters,
    cautions,
  } = throughFilters(request.filters, (stops) =>
    namedAsFilters(request.filters, () =>
      solveLong({ light, startMs, meteredEv100, attenuationStops: stops, ...settings }),
    ),
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
        ? { kind: "reached" as const, shutter: corrected.shutter, end: clock.format(corrected.endMs) }
        : {
            kind: "not-reached" as const,
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
                ? { kind: "at" as const, instant: clock.format(wanted.latestStart.startMs) }
                : wanted.latestStart,
            comesAbout:
              wanted.comesAbout.kind === "crosses"
                ? {
                    kind: "crosses" as const,
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

/** What a long exposure refuses of the attenuation is named as the filters that bring it about. */
function namedAsFilters<T>(filters: readonly Filter[] = [], calculate: () => T): T {
  try {
    return calculate();
  } catch (error) {
    const ofFilters = error instanceof DomainError && error.param === "attenuationStops" && filters.length > 0;
    throw ofFilters ? error.at("filters") : error;
  }
}
