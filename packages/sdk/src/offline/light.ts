import * as operations from "@fieldstop/operations/light";
import type {
  AlignmentInput,
  Alignments,
  FindLightWindowsData,
  LightLevels,
  LightLevelsInput,
  LightWindows,
  LightWindowsInput,
} from "../generated/types.gen.js";
import { answeredAt, refuseTerrain } from "./answered-at.js";
import { needsService } from "./needs-service.js";
import type { OfflineOptions } from "./options.js";

/** When the light comes and goes on one day, without a network: over a level horizon. */
export function findLightWindows(
  query: FindLightWindowsData["query"],
  options?: OfflineOptions,
): Promise<LightWindows> {
  return answeredAt("/v1/light-windows", "query", options, [query], (around) => {
    refuseTerrain(query.horizon && { kind: query.horizon }, "horizon");
    return operations.findLightWindows(around, query);
  });
}

/** When the light comes and goes on one day, without a network: behind a skyline that is given, or a level horizon. */
export function findLightWindowsFromBody(body: LightWindowsInput, options?: OfflineOptions): Promise<LightWindows> {
  return answeredAt("/v1/light-windows", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    return operations.findLightWindowsFromBody(around, body);
  });
}

/** The light over a span, step by step, without a network. */
export function traceLightLevels(body: LightLevelsInput, options?: OfflineOptions): Promise<LightLevels> {
  return answeredAt("/v1/light-levels", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    return operations.traceLightLevels(around, body);
  });
}

/** When sun or moon stands where it is wanted, without a network. Years take a second or more: better in a worker. */
export function findAlignments(body: AlignmentInput, options?: OfflineOptions): Promise<Alignments> {
  return answeredAt("/v1/alignments", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    return operations.findAlignments(around, body);
  });
}

/** Refused: the service draws. */
export function drawLightLevels(): Promise<never> {
  return needsService("/v1/light-levels.svg", "the service draws the pictures");
}

/** Refused: the service draws. */
export function drawLightWindows(): Promise<never> {
  return needsService("/v1/light-windows.svg", "the service draws the pictures; findLightWindows needs none");
}

/** Refused: the service writes the calendars. */
export function listLightCalendar(): Promise<never> {
  return needsService("/v1/light-windows.ics", "the service writes the calendars; findLightWindows needs none");
}
