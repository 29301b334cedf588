import { DomainError } from "../domain-error";
import type { ApertureSetting } from "../exposure/settings";
import type { Assumption } from "../notes";
import { type CameraOptics, type Diffraction, readCameraOptics } from "./camera-optics";
import { type FocusAdvice, focusAdvice } from "./focus-advice";
import { type FocusForWanted, focusForWanted, type WantedSharp } from "./focus-for-wanted";
import { hyperfocalDistanceM } from "./hyperfocal";
import {
  blurDiameterMm,
  type Distance,
  FARTHEST_SUBJECT_M,
  type FarLimit,
  focusBetweenM,
  requireDistance,
  sharpLimits,
} from "./thin-lens";

export interface DepthOfFieldRequest extends CameraOptics {
  /** Where the lens is focused [m], or `infinity`; default: between what should be sharp, else the hyperfocal distance. */
  readonly focusDistanceM?: Distance;
  /** The nearest thing that should be sharp [m]. */
  readonly wantedNearM?: number;
  /** The farthest thing that should be sharp [m], or `infinity`; default infinity. Only with `wantedNearM`. */
  readonly wantedFarM?: Distance;
  /** The smallest opening that the lens has, as marked; default f/22. */
  readonly maxFNumber?: number;
}

export interface DepthOfField {
  readonly focusDistanceM: Distance;
  readonly aperture: ApertureSetting;
  readonly circleOfConfusionMm: number;
  readonly hyperfocalM: number;
  readonly nearM: number;
  readonly far: FarLimit;
  /** From the near limit to the far one [m]; null where that is infinite. */
  readonly depthM: number | null;
  /** Blur of what is infinitely far away, on the sensor [mm]. */
  readonly blurAtInfinityMm: number;
  readonly diffraction: Diffraction;
  /** Whether what should be sharp is, and what would make it so; present where that was said. */
  readonly forWanted?: FocusForWanted;
  readonly advice: readonly FocusAdvice[];
  readonly assumptions: readonly Assumption[];
}

/**
 * Compute what is sharp enough at an aperture and a focus distance, the hyperfocal distance, and where to focus instead.
 * @param request `sensor` by name or measures; `focalLengthMm` [mm] 1 to 10,000; `aperture` [1] 0.5 to 256, a mark read as what it stands for;
 *   `focusDistanceM` [m], more than the focal length, or `infinity`; `circleOfConfusionMm` [mm] or `print`; `wantedNearM` and `wantedFarM` [m]
 * @returns limits [m], a far limit at infinity as `{ kind: "infinity", distanceM: null }`; diffraction; advice
 * @throws DomainError out of range, for an unknown sensor, or a wanted range whose near end is beyond its far end
 * Source: thin lens, Ray 2002, Applied Photographic Optics (from memory). Accuracy: exact for a thin lens; the circle of confusion is a convention.
 * Held by the golden rows `hyper` and `dof`, and by tests/core/optics/depth-of-field.spec.ts.
 * @example depthOfField({ sensor: "full-frame", focalLengthMm: 50, aperture: 8, circleOfConfusionMm: 0.03, focusDistanceM: 5 }).nearM // 3.389
 */
export function depthOfField(request: DepthOfFieldRequest): DepthOfField {
  const assumptions: Assumption[] = [];
  const { aperture, lens, diffraction } = readCameraOptics(request, assumptions);
  const hyperfocalM = hyperfocalDistanceM(lens);
  const wanted = readWantedSharp(request, lens.focalLengthMm, assumptions);
  const focusDistanceM = readFocus(request, lens.focalLengthMm, hyperfocalM, wanted, assumptions);
  const { nearM, far } = sharpLimits(lens, focusDistanceM);
  const forWanted =
    wanted === undefined
      ? undefined
      : focusForWanted(lens, wanted, { nearM, far }, diffraction, request.maxFNumber, assumptions);
  return {
    focusDistanceM,
    aperture,
    circleOfConfusionMm: lens.circleOfConfusionMm,
    hyperfocalM,
    nearM,
    far,
    depthM: far.kind === "infinity" ? null : far.distanceM - nearM,
    blurAtInfinityMm: focusDistanceM === "infinity" ? 0 : blurDiameterMm(lens, focusDistanceM, "infinity"),
    diffraction,
    ...(forWanted === undefined ? {} : { forWanted }),
    advice: focusAdvice(lens, focusDistanceM, { nearM, far }, diffraction, forWanted),
    assumptions,
  };
}

function readWantedSharp(
  { wantedNearM, wantedFarM }: DepthOfFieldRequest,
  focalLengthMm: number,
  assumptions: Assumption[],
): WantedSharp | undefined {
  if (wantedNearM === undefined) {
    if (wantedFarM === undefined) return undefined;
    throw new DomainError({ param: "wantedNearM", given: undefined, allowed: "a distance, where wantedFarM is given" });
  }
  requireDistance("wantedNearM", wantedNearM, focalLengthMm, FARTHEST_SUBJECT_M);
  if (wantedFarM === undefined) {
    assumptions.push({ field: "wantedFarM", value: "infinity", why: "the usual wish in a landscape" });
  } else if (wantedFarM !== "infinity") {
    requireDistance("wantedFarM", wantedFarM, focalLengthMm, FARTHEST_SUBJECT_M);
    if (wantedFarM < wantedNearM) {
      const allowed = `no nearer than wantedNearM, ${wantedNearM}`;
      throw new DomainError({ param: "wantedFarM", given: wantedFarM, allowed, unit: "m" });
    }
  }
  return { nearM: wantedNearM, farM: wantedFarM ?? "infinity" };
}

function readFocus(
  { focusDistanceM }: DepthOfFieldRequest,
  focalLengthMm: number,
  hyperfocalM: number,
  wanted: WantedSharp | undefined,
  assumptions: Assumption[],
): Distance {
  if (focusDistanceM === "infinity") return focusDistanceM;
  if (focusDistanceM !== undefined)
    return requireDistance("focusDistanceM", focusDistanceM, focalLengthMm, FARTHEST_SUBJECT_M);
  const value = wanted === undefined ? hyperfocalM : focusBetweenM(wanted.nearM, wanted.farM);
  const why = wanted === undefined ? "the hyperfocal distance" : "equally sharp at both ends of what should be sharp";
  assumptions.push({ field: "focusDistanceM", value, why });
  return value;
}
