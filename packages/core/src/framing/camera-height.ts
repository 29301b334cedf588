import { DomainError, requireInRange, requirePositive } from "../domain-error";
import type { HorizonProfile } from "../horizon/profile";
import type { Assumption } from "../notes";
import type { VerticalLens } from "./height-view";
import { type ForegroundThing, type ObstacleClearance, obstacleClearance } from "./obstacle-clearance";

export type { ForegroundThing, ObstacleClearance } from "./obstacle-clearance";

export interface CameraHeightRequest {
  /** 1 to 20. */
  readonly things: readonly ForegroundThing[];
  readonly profile: HorizonProfile;
  /** The eye height that the profile was seen from [m], 0 to 1000. */
  readonly profileEyeHeightM: number;
  /** Where the camera points, degrees clockwise from true north; needed where a thing does not say where it stands. */
  readonly azimuthDeg?: number | undefined;
  readonly lens: VerticalLens;
  /** Lowest and highest camera [m], 0.01 to 20; default 0.1 and 2. */
  readonly minHeightM?: number | undefined;
  readonly maxHeightM?: number | undefined;
}

export interface CameraHeights {
  readonly minHeightM: number;
  readonly maxHeightM: number;
  readonly things: readonly ObstacleClearance[];
  /** Heights at which the ridge is open past every thing, over it or under it; empty where there are none. */
  readonly open: readonly { readonly fromM: number; readonly toM: number }[];
  readonly assumptions: readonly Assumption[];
}

// Common practice: a tripod splayed flat, and one drawn out to over the eye
const USUAL_HEIGHTS_M = { min: 0.1, max: 2 } as const;
const MOST_THINGS = 20;
/**
 * Find how high the tripod should stand: the camera heights at which the ridge behind clears the top of what is in front, is framed under its underside, or
 * is hidden by it; the pitch that keeps both in the frame, and what 10 cm change.
 *
 * A near edge stands at atan((edge − camera)/distance): over the few metres of a foreground the curve of the Earth is nothing. The ridge stands
 * where the profile has it, and sinks by the rise of the camera over its distance. Both tangents are straight lines in the camera's height, so each threshold is
 * exact: where the lines meet.
 * @param request things [m, deg]; profile [deg, m] and its eye height [m]; direction [deg]; lens [mm]; lowest and highest camera [m]
 * @returns ranges of camera height [m]; at their ends altitudes and pitch [deg], and the change per 10 cm [deg, %, px]
 * @throws DomainError out of range, for a thing with neither edge or an underside over its top; `impossible` where the skyline is nearer than the thing
 * Source: plane geometry. Accuracy: exact for level ground and a skyline that stays the same crest; held by recomputing both altitudes at each threshold
 * in tests/core/framing/camera-height.spec.ts.
 * @example
 * // a boulder of 1.5 m at 5 m, against a ridge at 3°: the camera must stand at 1.238 m
 * solveCameraHeight({ things: [{ distanceM: 5, topM: 1.5 }], profile, profileEyeHeightM: 1.6, azimuthDeg: 290, lens: { focalLengthMm: 24, heightMm: 24 } })
 *   .things[0].clears // { kind: "between", fromM: 1.238, toM: 2 }
 */
export function solveCameraHeight(request: CameraHeightRequest): CameraHeights {
  const { things, lens, azimuthDeg, minHeightM = USUAL_HEIGHTS_M.min, maxHeightM = USUAL_HEIGHTS_M.max } = request;
  requireInRange("minHeightM", minHeightM, 0.01, 20, "m");
  requireInRange("maxHeightM", maxHeightM, 0.01, 20, "m");
  if (!(maxHeightM > minHeightM)) {
    throw new DomainError({ param: "maxHeightM", given: maxHeightM, allowed: `more than minHeightM, ${minHeightM} m` });
  }
  requireInRange("profileEyeHeightM", request.profileEyeHeightM, 0, 1000, "m");
  if (azimuthDeg !== undefined) requireInRange("azimuthDeg", azimuthDeg, 0, 360, "deg");
  requirePositive("lens.focalLengthMm", lens.focalLengthMm, "mm");
  requirePositive("lens.heightMm", lens.heightMm, "mm");
  if (lens.heightPx !== undefined) requirePositive("lens.heightPx", lens.heightPx, "px");
  if (things.length < 1 || things.length > MOST_THINGS) {
    throw new DomainError({ param: "things", given: things.length, allowed: `1 to ${MOST_THINGS} things` });
  }
  const seen = things.map((thing, index) =>
    obstacleClearance(thing, `things.${index}`, request, minHeightM, maxHeightM),
  );
  return {
    minHeightM,
    maxHeightM,
    things: seen,
    open: openPastAll(seen, minHeightM, maxHeightM),
    assumptions: assumptionsOf(request, seen),
  };
}

/** What is open past each thing is one stretch or two; their common part is found by going from bound to bound. */
function openPastAll(
  things: readonly ObstacleClearance[],
  minM: number,
  maxM: number,
): { fromM: number; toM: number }[] {
  const bounds = [minM, maxM, ...things.flatMap(({ ranges }) => ranges.map(({ toM }) => toM))].sort((a, b) => a - b);
  const open: { fromM: number; toM: number }[] = [];
  bounds.forEach((toM, i) => {
    const fromM = bounds[i - 1] ?? minM;
    if (!(toM > fromM)) return;
    const middle = (fromM + toM) / 2;
    const closed = things.some(({ ranges }) => {
      const state = ranges.find((range) => middle >= range.fromM && middle <= range.toM)?.state;
      return state === "hidden" || state === "partly";
    });
    if (closed) return;
    const before = open.at(-1);
    if (before?.toM === fromM) before.toM = toM;
    else open.push({ fromM, toM });
  });
  return open;
}

function assumptionsOf(request: CameraHeightRequest, things: readonly ObstacleClearance[]): Assumption[] {
  const assumptions: Assumption[] = [];
  for (const [field, key] of [
    ["minHeightM", "min"],
    ["maxHeightM", "max"],
  ] as const) {
    if (request[field] !== undefined) continue;
    assumptions.push({ field, value: USUAL_HEIGHTS_M[key], why: "the reach of a usual tripod" });
  }
  assumptions.push({
    field: "ground",
    value: "level",
    why: "heights are above the ground that the tripod stands on; over these distances the curve of the Earth is left out",
  });
  things.forEach(({ ridge }, index) => {
    if (request.things[index]?.widthDeg === undefined) {
      const why = "no width was given: the ridge is looked at behind its middle alone";
      assumptions.push({ field: `things.${index}.widthDeg`, value: 0, why });
    }
    if (ridge.distanceM !== null) return;
    const why = "its distance is not known; at 1 km it would sink by 0.006° for each 10 cm that the camera rises";
    assumptions.push({ field: `things.${index}.ridge`, value: "stays as the camera rises", why });
  });
  return assumptions;
}
