import * as operations from "@fieldstop/operations/exposures";
import type {
  Equivalents,
  EquivalentsInput,
  ExposureInput,
  ExposureSolution,
  LongExposure,
  LongExposureInput,
} from "../generated/types.gen.js";
import { answered } from "./answered.js";
import { answeredAt } from "./answered-at.js";
import type { OfflineOptions } from "./options.js";

/** The third of aperture, shutter time and ISO, without a network. */
export function solveExposure(body: ExposureInput, options?: OfflineOptions): Promise<ExposureSolution> {
  return answered("/v1/exposures/solve", "json", options, () => operations.solveExposure(body));
}

/** The settings that expose alike, without a network. */
export function listEquivalents(body: EquivalentsInput, options?: OfflineOptions): Promise<Equivalents> {
  return answered("/v1/exposures/equivalents", "json", options, () => operations.listEquivalents(body));
}

/** The shutter time that gathers the light while the light changes, without a network. */
export function solveLongExposure(body: LongExposureInput, options?: OfflineOptions): Promise<LongExposure> {
  return answeredAt("/v1/exposures/long", "json", options, [body.place], (around) =>
    operations.solveLongExposure(around, body),
  );
}
