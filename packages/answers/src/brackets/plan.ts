import { type BracketRequest, type Filter, planBracket as plan } from "@fieldstop/core";
import { throughFilters } from "../exposures/through-filters";
import { rounded } from "../rounding";

/** A scene's range, a camera, and what is on the lens. */
export interface BracketAsked extends Omit<BracketRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The frames that hold a scene from its shadows to its highlights. */
export function planBracket(asked: BracketAsked) {
  const { answer, assumptions, cautions } = throughFilters(asked.filters, (attenuationStops) =>
    plan({ ...asked, attenuationStops }),
  );
  const told = rounded({ ...answer, cautions });
  if (assumptions.length > 0) told.assumptions.unshift(...rounded(assumptions));
  return told;
}
