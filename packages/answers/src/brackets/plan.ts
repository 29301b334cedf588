import { type BracketRequest, planBracket as plan } from "@fieldstop/core/bracketing";
import type { Filter } from "@fieldstop/core/filters";
import { throughFilters } from "../exposures/through-filters";
import { rounded } from "../rounding";

/** A scene's range, a camera, and what is on the lens. */
export interface BracketAsked extends Omit<BracketRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The frames that hold a scene from its shadows to its highlights. */
export function planBracket(asked: BracketAsked) {
  const { answer, assumptions, cautions } = throughFilters(asked.filters, (attenuationStops) =>
    // copies of objects this large are dear, and nothing taken is what core assumes
    plan(attenuationStops === 0 ? asked : Object.assign({}, asked, { attenuationStops })),
  );
  const told = Object.assign(rounded(answer), { cautions: rounded(cautions) });
  if (assumptions.length > 0) told.assumptions.unshift(...rounded(assumptions));
  return told;
}
