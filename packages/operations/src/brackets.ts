import {
  type BracketRequest as CoreBracketRequest,
  planBracket as plan,
  type ReviewRequest,
  reviewBracket as review,
} from "@fieldstop/core/bracketing";
import type { Filter } from "@fieldstop/core/filters";
import { rounded } from "./rounding";
import { throughFilters } from "./through-filters";

/** A scene's range, a camera, and what is on the lens. */
export interface BracketRequest extends Omit<CoreBracketRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The frames that hold a scene from its shadows to its highlights. */
export function planBracket(request: BracketRequest) {
  const { answer, assumptions, cautions } = throughFilters(request.filters, (attenuationStops) =>
    // copies of objects this large are dear, and nothing taken is what core assumes
    plan(attenuationStops === 0 ? request : Object.assign({}, request, { attenuationStops })),
  );
  const told = Object.assign(rounded(answer), { cautions: rounded(cautions) });
  if (assumptions.length > 0) told.assumptions.unshift(...rounded(assumptions));
  return told;
}

/** Which frames of a bracket the blend needs, and which were missed. */
export function reviewBracket(request: ReviewRequest) {
  return rounded(review(request));
}
