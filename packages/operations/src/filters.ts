import {
  type FilterSelectionRequest as CoreFilterSelectionRequest,
  selectFilters as chooseFilters,
  type FilterChoice,
  type FilterStackRequest,
  stackFilters as stack,
} from "@fieldstop/core/filters";
import type { ZoneClock } from "@fieldstop/core/instants";
import type { Dependencies } from "./dependencies";
import { rounded } from "./rounding";
import { lightToSelectBy, type SelectionLightRequest } from "./selection-light";

export { assessGraduated, type GraduatedRequest } from "./graduated";
export { assessPolarizer, type PolarizerRequest } from "./polarizer";

/** What a stack of filters takes, and the shutter time through it. */
export function stackFilters(request: FilterStackRequest) {
  return rounded(stack(request));
}

/** Which filters of a kit bring about a wanted shutter time, and when. */
export function selectFilters(dependencies: Dependencies, request: FilterSelectionRequest) {
  return rounded(filterSelectionFor(dependencies, request));
}

/** A kit, what is wanted of it, and the light. */
export interface FilterSelectionRequest
  extends Omit<CoreFilterSelectionRequest, "light" | "atMs">,
    SelectionLightRequest {}

/** The filters that a request asks for, instants written in the zone of the place or of the readings. */
export function filterSelectionFor(dependencies: Dependencies, request: FilterSelectionRequest) {
  const { place, readings, date, instant, cloudCover, lookAheadMinutes, ...selection } = request;
  const { aperture, iso } = selection;
  const asksFor = { place, readings, date, instant, cloudCover, lookAheadMinutes, aperture, iso };
  const course = lightToSelectBy(dependencies, asksFor);
  if (course === undefined) {
    const { choices, ...selected } = chooseFilters(selection);
    return Object.assign(selected, { choices: choices.map((choice) => atOneTime(choice)) });
  }
  const { source, light, startMs, clock, assumptions } = course;
  const { choices, ...selected } = chooseFilters(Object.assign({}, selection, { light, atMs: startMs }));
  return Object.assign(selected, {
    choices: choices.map((choice) => Object.assign(atOneTime(choice), overTime(choice, clock))),
    light: {
      source,
      instant: clock.format(startMs),
      knownFrom: clock.format(light.startMs),
      knownUntil: clock.format(light.endMs),
    },
    assumptions: [...assumptions, ...selected.assumptions],
  });
}

function atOneTime({ filters, marks, attenuationStops, shutter, errorStops, meets, warnings }: FilterChoice) {
  return { filters, marks, attenuationStops, shutter, errorStops, meets, warnings };
}

function overTime({ moments, windows }: FilterChoice, clock: ZoneClock) {
  return {
    moments:
      moments?.kind === "crosses"
        ? {
            kind: moments.kind,
            moments: moments.moments.map(({ startMs, direction }) => ({ instant: clock.format(startMs), direction })),
          }
        : moments,
    windows: windows?.map(({ startMs, endMs }) => ({
      start: clock.format(startMs),
      end: clock.format(endMs),
      minutes: (endMs - startMs) / 60_000,
    })),
  };
}
