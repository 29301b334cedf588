import { tanDeg } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import { type EdgeHeights, type HeightAnswer, type HeightRange, heightAnswer, heightRanges } from "./height-ranges";
import { type HeightView, heightView, type VerticalLens } from "./height-view";
import { type RidgePoint, ridgeAcross, ridgeAt } from "./ridge-behind";

/** Something that stands or hangs between the camera and the ridge; heights are above the ground that the tripod stands on. */
export interface ForegroundThing {
  readonly name?: string | undefined;
  /** [m], 0.2 to 2000 */
  readonly distanceM: number;
  /** Height of its top [m], -50 to 200. */
  readonly topM?: number | undefined;
  /** Height of its underside [m], below the top: an arch, a branch, a bridge. Without a top it reaches up out of sight. */
  readonly undersideM?: number | undefined;
  /** Degrees clockwise from true north; default: where the camera points. */
  readonly azimuthDeg?: number | undefined;
  /** How wide it looks [deg], 0 to 90; default 0, its middle alone. */
  readonly widthDeg?: number | undefined;
}

export interface ObstacleClearance {
  readonly name?: string;
  readonly azimuthDeg: number;
  readonly widthDeg: number;
  readonly distanceM: number;
  readonly topM?: number;
  readonly undersideM?: number;
  /** The ridge behind its middle, from the eye height of the profile. */
  readonly ridge: RidgePoint;
  /** The ridge stands over the top, all along the width. */
  readonly clears: HeightAnswer;
  /** The ridge stands under the underside, all along the width. */
  readonly framedUnder: HeightAnswer;
  /** The thing covers the ridge, all along the width. */
  readonly hidden: HeightAnswer;
  /** All heights asked about, cut where one state gives way to the next. */
  readonly ranges: readonly HeightRange[];
  /** What the camera sees at the ends of those ranges, in order of height. */
  readonly views: readonly HeightView[];
}

/** The drop of the ground by curve is 0.27 m here, 0.008°; farther things belong to the skyline. */
const FARTHEST_THING_M = 2000;

/** What a thing is seen against, and through what. */
interface RidgeView {
  readonly profile: HorizonProfile;
  readonly profileEyeHeightM: number;
  readonly azimuthDeg?: number | undefined;
  readonly lens: VerticalLens;
}

/**
 * The camera heights at which the ridge clears one thing, is framed under it or is hidden by it.
 * @param at where the thing stands in the request, for refusals
 * @throws DomainError as `solveCameraHeight` does
 */
export function obstacleClearance(
  thing: ForegroundThing,
  at: string,
  request: RidgeView,
  minM: number,
  maxM: number,
): ObstacleClearance {
  const { profile, profileEyeHeightM, lens } = request;
  const { name, distanceM, topM, undersideM, azimuthDeg = request.azimuthDeg, widthDeg = 0 } = thing;
  requireThing(thing, at);
  if (azimuthDeg === undefined) {
    throw new DomainError({
      param: `${at}.azimuthDeg`,
      given: azimuthDeg,
      allowed: "an azimuth here, or of the camera",
    });
  }
  requireInRange(`${at}.azimuthDeg`, azimuthDeg, 0, 360, "deg");
  requireInRange(`${at}.widthDeg`, widthDeg, 0, 90, "deg");
  const ridge = ridgeAcross(profile, azimuthDeg, widthDeg);
  const nearest = Math.min(...ridge.map((point) => point.distanceM ?? Number.POSITIVE_INFINITY));
  if (!(distanceM < nearest)) {
    throw new DomainError({
      code: "impossible",
      param: `${at}.distanceM`,
      given: distanceM,
      allowed: `nearer than the skyline behind it, ${Math.round(nearest)}`,
      unit: "m",
    });
  }
  const touching = (edgeM: number | undefined, absent: number): EdgeHeights => {
    if (edgeM === undefined) return { least: absent, greatest: absent };
    const heights = ridge.map((point) => touchingHeightM(edgeM, distanceM, point, profileEyeHeightM));
    return { least: Math.min(...heights), greatest: Math.max(...heights) };
  };
  const underside = touching(undersideM, Number.NEGATIVE_INFINITY);
  const top = touching(topM, Number.POSITIVE_INFINITY);
  const ranges = heightRanges(underside, top, minM, maxM);
  const middle = ridgeAt(profile, azimuthDeg);
  const heights = [minM, ...ranges.map(({ toM }) => toM)];
  const against = {
    azimuthDeg,
    widthDeg,
    distanceM,
    ...(topM === undefined ? {} : { topM }),
    ...(undersideM === undefined ? {} : { undersideM }),
    ridge: middle,
    clears: heightAnswer(top.greatest, Number.POSITIVE_INFINITY, minM, maxM),
    framedUnder: heightAnswer(Number.NEGATIVE_INFINITY, underside.least, minM, maxM),
    hidden: heightAnswer(underside.greatest, top.least, minM, maxM),
    ranges,
    views: heights.map((heightM) =>
      heightView({ heightM, distanceM, topM, undersideM, middle, ridge, profileEyeHeightM, lens }),
    ),
  };
  return name === undefined ? against : { name, ...against };
}

/** The camera height at which an edge and the ridge stand at the same altitude: (edge − h)/d = tan a + (h0 − h)/D. */
function touchingHeightM(edgeM: number, distanceM: number, ridge: RidgePoint, profileEyeHeightM: number): number {
  const perMetre = ridge.distanceM === null ? 0 : 1 / ridge.distanceM;
  return (edgeM / distanceM - tanDeg(ridge.altitudeDeg) - profileEyeHeightM * perMetre) / (1 / distanceM - perMetre);
}

function requireThing({ distanceM, topM, undersideM }: ForegroundThing, at: string): void {
  requireInRange(`${at}.distanceM`, distanceM, 0.2, FARTHEST_THING_M, "m");
  if (topM === undefined && undersideM === undefined) {
    throw new DomainError({ param: `${at}.topM`, given: topM, allowed: "a top, an underside, or both" });
  }
  if (topM !== undefined) requireInRange(`${at}.topM`, topM, -50, 200, "m");
  if (undersideM !== undefined) requireInRange(`${at}.undersideM`, undersideM, -50, 200, "m");
  if (topM !== undefined && undersideM !== undefined && !(undersideM < topM)) {
    throw new DomainError({
      param: `${at}.undersideM`,
      given: undersideM,
      allowed: `less than topM, ${topM}`,
      unit: "m",
    });
  }
}
