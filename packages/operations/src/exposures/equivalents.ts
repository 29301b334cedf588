import { type EquivalentsRequest as CoreEquivalentsRequest, listEquivalents as list } from "@fieldstop/core/exposure";
import type { Filter } from "@fieldstop/core/filters";
import { rounded } from "../rounding";
import { throughFilters } from "./through-filters";

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
