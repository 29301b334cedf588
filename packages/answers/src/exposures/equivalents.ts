import { type EquivalentsRequest, type Filter, listEquivalents as list } from "@fieldstop/core";
import { rounded } from "../rounding";
import { throughFilters } from "./through-filters";

/** An exposure, and what is on the lens. */
export interface EquivalentsAsked extends Omit<EquivalentsRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The settings that expose alike, rung by rung. */
export function listEquivalents({ filters, ...asked }: EquivalentsAsked) {
  const { answer, assumptions, cautions } = throughFilters(filters, (attenuationStops) =>
    list({ ...asked, attenuationStops }),
  );
  return rounded({ ...answer, assumptions: [...assumptions, ...answer.assumptions], cautions });
}
