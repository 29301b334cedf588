import { cannotCover } from "./cannot-cover";
import { changesDuring } from "./changes-during";
import { type BracketPlan, type BracketRequest, planBracketWith } from "./plan-with";

/**
 * The fewest frames that hold a scene, from its darkest to its brightest part, by shutter time alone. A frame exposed for E holds E − footroom to
 * E + headroom; n frames at a step of s reach (n − 1)·s further. The base lies on a mark of the shutter dial where the scene leaves room for it.
 * @param request scene `shadowEv100` to `highlightEv100` [EV100]; `camera` with `aperture`, `iso`, latitude and pace; `stepStops` [stops] 0.3 to 3;
 *   `counts` each 1 to 99; `overlapStops` [stops]; `meteredEv100` [EV100]; `lightStopsPerMinute` [stops/min]; `subject` [px/s, px]
 * @returns the frames, dark to bright, what they hold, how long they take, why so many, and what may go wrong
 * @throws DomainError for values out of range; `impossible` where no allowed set holds the scene, saying what would, or a frame would take longer
 *   than 10,000,000 s
 * Source: (n − 1)·s is common practice; latitude as `sensorLatitude`. Accuracy: that of the latitude. Held by the golden rows `bracket` and
 * by coverage properties in tests/core/bracketing/plan.spec.ts.
 * @example planBracket({ shadowEv100: 3, highlightEv100: 16, camera: { aperture: 8, iso: 100 } }).count // 3
 */
export function planBracket(request: BracketRequest): BracketPlan {
  return planBracketWith({ cannotCover, changesDuring }, request);
}
