import { atanDeg, RADIANS_PER_DEGREE, tanDeg } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { ProjectionKind } from "../framing/projection";
import type { Assumption } from "../notes";
import { type Crop, cropTo, parseAspect } from "./crop";
import { asHeld, type FrameOrientation, readSensor, type Sensor } from "./sensor";
import { FARTHEST_SUBJECT_M } from "./thin-lens";

export interface AngleOfViewRequest {
  readonly sensor: Sensor;
  /** [mm], 1 to 10,000 */
  readonly focalLengthMm: number;
  /** How the lens draws: `rectilinear` keeps lines straight, `equidistant` is the usual fisheye; default rectilinear. */
  readonly projection?: ProjectionKind;
  /** Default landscape. */
  readonly orientation?: FrameOrientation;
  /** Where the lens is focused [m]; default far away. Nearer, the frame takes in less. */
  readonly focusDistanceM?: number;
  /** How much of the world an equidistant lens draws at most [deg], 90 to 360; default 180. */
  readonly coverageDeg?: number;
  /** A shape to cut the frame to, width to height as it is held: `16:9`. */
  readonly cropAspect?: string;
}

/** How much a frame takes in, through the middle of it [deg]. */
export interface ViewAngles {
  readonly horizontalDeg: number;
  readonly verticalDeg: number;
  readonly diagonalDeg: number;
}

export interface AngleOfView extends ViewAngles {
  readonly projection: ProjectionKind;
  readonly orientation: FrameOrientation;
  /** The frame as it is held [mm]. */
  readonly widthMm: number;
  readonly heightMm: number;
  readonly cropFactor: number;
  /** The focal length that takes in the same diagonal on full frame [mm]. */
  readonly fullFrameEquivalentMm: number;
  /** Whether the image reaches the corners; only a fisheye's may not. */
  readonly fillsFrame: boolean;
  /** Pixels for each degree in the middle of the frame; present where the pixels are known. */
  readonly pixelsPerDegree?: number;
  /** The cut frame, where one was asked for. */
  readonly crop?: Crop & ViewAngles & { readonly fullFrameEquivalentMm: number };
  readonly assumptions: readonly Assumption[];
}

/**
 * Compute how much of the world a lens takes in on a sensor: 2·atan(d/2f) across each side and the diagonal, or d/f for an equidistant fisheye; and
 * what a crop to another shape leaves of it.
 * @param request `sensor`; `focalLengthMm` [mm] 1 to 10,000; `projection`; `orientation`; `focusDistanceM` [m], more than twice the focal length;
 *   `coverageDeg` [deg] 90 to 360, for a fisheye; `cropAspect` as `16:9`
 * @returns angles [deg] through the middle of the frame, equivalent focal length [mm], pixels per degree
 * @throws DomainError out of range, for an unknown sensor, or a shape that is not one
 * Source: Ray 2002, Applied Photographic Optics (from memory); r = f·θ for the fisheye, Kannala and Brandt 2006, IEEE TPAMI 28:1335, eq. 3; the image
 * distance f·s/(s−f) of a thin lens. Accuracy: exact for an ideal lens, 1° or so for real wide ones. Held by the golden rows `aov`.
 * @example angleOfView({ sensor: "full-frame", focalLengthMm: 24 }).horizontalDeg // 73.74
 */
export function angleOfView(request: AngleOfViewRequest): AngleOfView {
  const { projection = "rectilinear", orientation = "landscape", cropAspect } = request;
  const assumptions: Assumption[] = [];
  const frame = asHeld(readSensor(request.sensor), orientation);
  const focalLengthMm = requireInRange("focalLengthMm", request.focalLengthMm, 1, 1e4, "mm");
  const imageDistanceMm = imageDistance(request, focalLengthMm, assumptions);
  const coverageDeg = readCoverage(request, projection, assumptions);

  const across = (sideMm: number): number => Math.min(coverageDeg, angleAcross(sideMm, imageDistanceMm, projection));
  const anglesOf = (widthMm: number, heightMm: number): ViewAngles => ({
    horizontalDeg: across(widthMm),
    verticalDeg: across(heightMm),
    diagonalDeg: across(Math.hypot(widthMm, heightMm)),
  });
  const cut = cropAspect === undefined ? undefined : cropTo(frame, parseAspect(cropAspect));
  const equivalent = (diagonalMm: number): number => (focalLengthMm * frame.diagonalMm * frame.cropFactor) / diagonalMm;
  return {
    projection,
    orientation,
    widthMm: frame.widthMm,
    heightMm: frame.heightMm,
    ...anglesOf(frame.widthMm, frame.heightMm),
    cropFactor: frame.cropFactor,
    fullFrameEquivalentMm: equivalent(frame.diagonalMm),
    fillsFrame: angleAcross(frame.diagonalMm, imageDistanceMm, projection) <= coverageDeg,
    ...(frame.pixelPitchUm === undefined
      ? {}
      : { pixelsPerDegree: (imageDistanceMm * RADIANS_PER_DEGREE * 1000) / frame.pixelPitchUm }),
    ...(cut === undefined
      ? {}
      : {
          crop: Object.assign({}, cut, anglesOf(cut.widthMm, cut.heightMm), {
            fullFrameEquivalentMm: equivalent(Math.hypot(cut.widthMm, cut.heightMm)),
          }),
        }),
    assumptions,
  };
}

/**
 * Compute how large a thing in the middle of the frame is drawn on the sensor by a rectilinear lens: 2·f·tan(α/2).
 * @param focalLengthMm [mm], 1 to 10,000
 * @param angularDiameterDeg how large it looks [deg], 0 to 170
 * @returns [mm]
 * @throws DomainError outside those ranges
 * Source: pinhole geometry. Held by the golden row `tele`.
 * @example imageSizeMm(1000, 0.518) // 9.04, the moon
 */
export function imageSizeMm(focalLengthMm: number, angularDiameterDeg: number): number {
  requireInRange("focalLengthMm", focalLengthMm, 1, 1e4, "mm");
  return 2 * focalLengthMm * tanDeg(requireInRange("angularDiameterDeg", angularDiameterDeg, 0, 170, "deg") / 2);
}

function angleAcross(sideMm: number, imageDistanceMm: number, projection: ProjectionKind): number {
  if (projection === "rectilinear") return 2 * atanDeg(sideMm / (2 * imageDistanceMm));
  return sideMm / imageDistanceMm / RADIANS_PER_DEGREE;
}

/** From the lens to the sensor [mm]: the focal length, and more for a near focus. */
function imageDistance(
  { focusDistanceM }: AngleOfViewRequest,
  focalLengthMm: number,
  assumptions: Assumption[],
): number {
  if (focusDistanceM === undefined) return focalLengthMm;
  // nearer than twice the focal length the image is larger than life: no lens for landscapes goes there
  requireInRange("focusDistanceM", focusDistanceM, (2 * focalLengthMm) / 1000, FARTHEST_SUBJECT_M, "m");
  const why = "a thin lens that moves as a whole; lenses that focus inside can lose or gain angle";
  assumptions.push({ field: "focusDistanceM", value: focusDistanceM, why });
  const s = focusDistanceM * 1000;
  return (focalLengthMm * s) / (s - focalLengthMm);
}

function readCoverage(
  { coverageDeg }: AngleOfViewRequest,
  projection: ProjectionKind,
  assumptions: Assumption[],
): number {
  if (projection !== "rectilinear" && projection !== "equidistant") {
    throw new DomainError({ param: "projection", given: projection, allowed: "rectilinear, equidistant" });
  }
  if (projection === "rectilinear") {
    if (coverageDeg === undefined) return 180;
    throw new DomainError({ param: "coverageDeg", given: coverageDeg, allowed: "only with an equidistant lens" });
  }
  // Common practice: most fisheye lenses draw half the world
  if (coverageDeg === undefined) assumptions.push({ field: "coverageDeg", value: 180, why: "usual for a fisheye" });
  return requireInRange("coverageDeg", coverageDeg ?? 180, 90, 360, "deg");
}
