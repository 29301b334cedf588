/** How the ridge stands to a thing in front: over its top, under its underside, behind it, or differently along its width. */
export type RidgeState = "clear" | "framed-under" | "hidden" | "partly";

/** Camera heights of one state [m]. */
export interface HeightRange {
  readonly state: RidgeState;
  readonly fromM: number;
  readonly toM: number;
}

/** At which camera heights something is so, of those that were asked about. */
export type HeightAnswer =
  | { readonly kind: "between"; readonly fromM: number; readonly toM: number }
  | { readonly kind: "always" }
  /** `nearestM` is the height outside the range at which it would begin [m]; null where no height above the ground would do. */
  | { readonly kind: "never"; readonly nearestM: number | null };

/**
 * Camera heights at which the ridge touches an edge: least and greatest along the width of the thing [m]. An edge that is not there is infinitely far off.
 */
export interface EdgeHeights {
  readonly least: number;
  readonly greatest: number;
}

/** The heights from min to max [m], cut where the state changes; in order, without gaps. */
export function heightRanges(underside: EdgeHeights, top: EdgeHeights, minM: number, maxM: number): HeightRange[] {
  const whole: readonly HeightRange[] =
    underside.greatest < top.least
      ? [
          { state: "framed-under", fromM: Number.NEGATIVE_INFINITY, toM: underside.least },
          { state: "partly", fromM: underside.least, toM: underside.greatest },
          { state: "hidden", fromM: underside.greatest, toM: top.least },
          { state: "partly", fromM: top.least, toM: top.greatest },
          { state: "clear", fromM: top.greatest, toM: Number.POSITIVE_INFINITY },
        ]
      : [
          { state: "framed-under", fromM: Number.NEGATIVE_INFINITY, toM: underside.least },
          { state: "partly", fromM: underside.least, toM: top.greatest },
          { state: "clear", fromM: top.greatest, toM: Number.POSITIVE_INFINITY },
        ];
  return whole
    .map(({ state, fromM, toM }) => ({ state, fromM: Math.max(minM, fromM), toM: Math.min(maxM, toM) }))
    .filter(({ fromM, toM }) => toM > fromM);
}

/** The heights between two bounds, seen from the range that was asked about [m]; touching it at one end is not being in it. */
export function heightAnswer(fromM: number, toM: number, minM: number, maxM: number): HeightAnswer {
  if (fromM < toM) {
    if (fromM <= minM && toM >= maxM) return { kind: "always" };
    if (fromM < maxM && toM > minM) return { kind: "between", fromM: Math.max(fromM, minM), toM: Math.min(toM, maxM) };
    if (fromM >= maxM && Number.isFinite(fromM)) return { kind: "never", nearestM: fromM };
    if (toM <= minM && toM > 0) return { kind: "never", nearestM: toM };
  }
  return { kind: "never", nearestM: null };
}
