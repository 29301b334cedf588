import * as operations from "@fieldstop/operations/filters";
import type {
  FilterSelection,
  FilterSelectionInput,
  FilterStack,
  FilterStackInput,
  GraduatedAssessment,
  GraduatedAssessmentInput,
  PolarizerAssessment,
  PolarizerAssessmentInput,
} from "../generated/types.gen.js";
import { answered } from "./answered.js";
import { answeredAt, refuseTerrain } from "./answered-at.js";
import type { OfflineOptions } from "./options.js";

/** What a stack of filters takes, and the shutter time through it, without a network. */
export function stackFilters(body: FilterStackInput, options?: OfflineOptions): Promise<FilterStack> {
  return answered("/v1/filters/stack", "json", options, () => operations.stackFilters(body));
}

/** Which filters of a kit bring about a wanted shutter time, and when, without a network. */
export function selectFilters(body: FilterSelectionInput, options?: OfflineOptions): Promise<FilterSelection> {
  return answeredAt("/v1/filters/select", "json", options, [body.place], (around) =>
    operations.selectFilters(around, body),
  );
}

/** What a polarizer does to a frame, without a network. */
export function assessPolarizer(
  body: PolarizerAssessmentInput,
  options?: OfflineOptions,
): Promise<PolarizerAssessment> {
  return answeredAt("/v1/filters/polarizer", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    return operations.assessPolarizer(around, body);
  });
}

/** Whether a graduated filter fits a frame, without a network. */
export function assessGraduated(
  body: GraduatedAssessmentInput,
  options?: OfflineOptions,
): Promise<GraduatedAssessment> {
  return answeredAt("/v1/filters/graduated", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    return operations.assessGraduated(around, body);
  });
}
