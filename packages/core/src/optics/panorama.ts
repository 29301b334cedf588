import { RADIANS_PER_DEGREE, tanDeg, wrap360 } from "../angles";
import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import { angleOfView } from "./angle-of-view";
import { bottomOf, columnsAt, type PanoramaFrame, rowPitches } from "./panorama-rows";
import { type FrameOrientation, readSensor, type Sensor } from "./sensor";

export interface PanoramaRequest {
  readonly sensor: Sensor;
  /** [mm], 1 to 10,000; the lens is rectilinear */
  readonly focalLengthMm: number;
  /** How wide the panorama is [deg], 1 to 360. */
  readonly horizontalDeg: number;
  /** How high it is [deg], up to 180; default: what one row holds. */
  readonly verticalDeg?: number;
  /** Altitude of its middle [deg], -90 to 90; default 0. */
  readonly pitchDeg?: number;
  /** Azimuth of its middle [deg]; without it frames are counted from the middle alone. */
  readonly azimuthDeg?: number;
  /** Part of a frame that its neighbour covers again, 0.05 to 0.8; default 0.3. */
  readonly overlap?: number;
  /** Default portrait. */
  readonly orientation?: FrameOrientation;
}

export interface PanoramaRow {
  readonly pitchDeg: number;
  readonly columns: number;
  readonly yawStepDeg: number;
  /** From the middle of the panorama, left negative [deg]. */
  readonly yawsDeg: readonly number[];
  /** Clockwise from true north [deg]; present where the middle's is known. */
  readonly azimuthsDeg?: readonly number[];
}

/** The stitched picture at the scale of the middle of a frame. */
export interface StitchedSize {
  readonly projection: "equirectangular" | "cylindrical";
  readonly widthPx: number;
  readonly heightPx: number;
  readonly megapixels: number;
}

export interface Panorama {
  readonly orientation: FrameOrientation;
  /** Frames in the longest row; rows near the zenith take fewer. */
  readonly columns: number;
  readonly rows: number;
  /** Frames in all. */
  readonly count: number;
  readonly overlap: number;
  /** Turn between frames of the longest row [deg]; 0 for a single one. */
  readonly yawStepDeg: number;
  /** Tilt between rows [deg]; 0 for a single one. */
  readonly pitchStepDeg: number;
  /** From the lowest to the highest. */
  readonly rowPlans: readonly PanoramaRow[];
  /** What one frame takes in [deg]. */
  readonly frameHorizontalDeg: number;
  readonly frameVerticalDeg: number;
  /** What is held everywhere between the sides [deg]. */
  readonly minAltitudeDeg: number;
  readonly maxAltitudeDeg: number;
  /** Sizes of the stitched picture, empty where the pixels are not known; cylindrical only within 60° of the horizon, where it does not stretch too far. */
  readonly stitched: readonly StitchedSize[];
  readonly assumptions: readonly Assumption[];
}

// Common practice: stitching programs ask for 20 to 40 %
const USUAL_OVERLAP = 0.3;
const MOST_FRAMES = 2000;
// Our own choice: past this a cylinder is stretched to more than double
const CYLINDER_UP_TO_DEG = 60;

/**
 * Plan the frames of a panorama: columns and rows, how far to turn and tilt between them, and the pixels of the stitched picture. Neighbours share at
 * least the overlap where they share the least, and every direction between the edges is in some frame.
 * @param request `sensor`; `focalLengthMm` [mm] 1 to 10,000; `horizontalDeg` [deg] 1 to 360; `verticalDeg` [deg] 1 to 180; `pitchDeg` [deg] -90 to
 *   90 and `azimuthDeg` [deg] of the middle; `overlap` [1] 0.05 to 0.8; `orientation`
 * @returns rows from the lowest up, yaw from the middle [deg], stitched sizes [px]
 * @throws DomainError out of range, or a height that goes past the zenith or the nadir; `impossible` for more than 2000 frames
 * Source: pinhole geometry; tan h = cos Δ·tan e along the edge of a frame. Accuracy: exact for an ideal rectilinear lens; held by
 * tests/core/optics/panorama.spec.ts, which looks for every direction in some frame.
 * @example planPanorama({ sensor: "full-frame", focalLengthMm: 24, horizontalDeg: 180 }).columns // 5
 */
export function planPanorama(request: PanoramaRequest): Panorama {
  const assumptions: Assumption[] = [];
  const { orientation, overlap } = readManner(request, assumptions);
  const view = angleOfView({ sensor: request.sensor, focalLengthMm: request.focalLengthMm, orientation });
  const frame: PanoramaFrame = {
    halfWidthDeg: view.horizontalDeg / 2,
    halfHeightDeg: view.verticalDeg / 2,
    overlap,
    horizontalDeg: requireInRange("horizontalDeg", request.horizontalDeg, 1, 360, "deg"),
  };
  const pitches = readPitches(request, frame);
  const planned = pitches.map((pitchDeg) => ({ pitchDeg, ...columnsAt(pitchDeg, frame) }));
  const count = planned.reduce((sum, { columns }) => sum + columns, 0);
  if (!(count <= MOST_FRAMES)) throw tooMany("horizontalDeg", request.horizontalDeg);
  const longest = planned.reduce((most, row) => (row.columns > most.columns ? row : most));

  const minAltitudeDeg = bottomOf(pitches[0] as number, frame);
  const maxAltitudeDeg = -bottomOf(-(pitches.at(-1) as number), frame);
  const middle = request.pitchDeg ?? 0;
  const half = request.verticalDeg === undefined ? undefined : request.verticalDeg / 2;
  return {
    orientation,
    columns: longest.columns,
    rows: pitches.length,
    count,
    overlap,
    yawStepDeg: longest.yawStepDeg,
    pitchStepDeg: pitches.length === 1 ? 0 : (pitches[1] as number) - (pitches[0] as number),
    rowPlans: planned.map((row) => withYaws(row, request.azimuthDeg)),
    frameHorizontalDeg: view.horizontalDeg,
    frameVerticalDeg: view.verticalDeg,
    minAltitudeDeg,
    maxAltitudeDeg,
    stitched: stitchedSizes(
      request,
      half === undefined ? minAltitudeDeg : middle - half,
      half === undefined ? maxAltitudeDeg : middle + half,
    ),
    assumptions,
  };
}

function readManner(
  request: PanoramaRequest,
  assumptions: Assumption[],
): { orientation: FrameOrientation; overlap: number } {
  if (request.orientation === undefined) {
    const why = "common practice: upright frames hold more height";
    assumptions.push({ field: "orientation", value: "portrait", why });
  }
  if (request.overlap === undefined) {
    const why = "common practice: stitching asks for 20 to 40 %";
    assumptions.push({ field: "overlap", value: USUAL_OVERLAP, why });
  }
  if (request.azimuthDeg !== undefined) requireInRange("azimuthDeg", request.azimuthDeg, -360, 360, "deg");
  return {
    orientation: request.orientation ?? "portrait",
    overlap: requireInRange("overlap", request.overlap ?? USUAL_OVERLAP, 0.05, 0.8),
  };
}

function readPitches({ verticalDeg, pitchDeg = 0 }: PanoramaRequest, frame: PanoramaFrame): number[] {
  requireInRange("pitchDeg", pitchDeg, -90, 90, "deg");
  if (verticalDeg === undefined) return [pitchDeg];
  requireInRange("verticalDeg", verticalDeg, 1, 180, "deg");
  const lowest = pitchDeg - verticalDeg / 2;
  const highest = pitchDeg + verticalDeg / 2;
  if (!(lowest >= -90 && highest <= 90)) {
    const allowed = `at most ${2 * (90 - Math.abs(pitchDeg))} about a middle at ${pitchDeg}: no farther than zenith and nadir`;
    throw new DomainError({ param: "verticalDeg", given: verticalDeg, allowed, unit: "deg" });
  }
  // no row takes fewer frames than the highest, the lowest or a level one
  const fewest = Math.min(...[lowest, 0, highest].map((pitch) => columnsAt(pitch, frame).columns));
  const pitches = rowPitches(lowest, highest, frame, Math.floor(MOST_FRAMES / fewest));
  if (pitches === null) throw tooMany("verticalDeg", verticalDeg);
  return pitches;
}

function withYaws(
  row: { readonly pitchDeg: number; readonly columns: number; readonly yawStepDeg: number },
  azimuthDeg: number | undefined,
): PanoramaRow {
  const yawsDeg = Array.from({ length: row.columns }, (_, i) => (i - (row.columns - 1) / 2) * row.yawStepDeg);
  if (azimuthDeg === undefined) return Object.assign({}, row, { yawsDeg });
  return Object.assign({}, row, { yawsDeg, azimuthsDeg: yawsDeg.map((yaw) => wrap360(azimuthDeg + yaw)) });
}

function stitchedSizes(request: PanoramaRequest, minAltitudeDeg: number, maxAltitudeDeg: number): StitchedSize[] {
  const { pixelPitchUm } = readSensor(request.sensor);
  if (pixelPitchUm === undefined) return [];
  const perRadian = (request.focalLengthMm * 1000) / pixelPitchUm;
  const widthPx = Math.round(perRadian * request.horizontalDeg * RADIANS_PER_DEGREE);
  const size = (projection: StitchedSize["projection"], height: number): StitchedSize => {
    const heightPx = Math.round(perRadian * height);
    return { projection, widthPx, heightPx, megapixels: (widthPx * heightPx) / 1e6 };
  };
  const sizes = [size("equirectangular", (maxAltitudeDeg - minAltitudeDeg) * RADIANS_PER_DEGREE)];
  if (maxAltitudeDeg <= CYLINDER_UP_TO_DEG && minAltitudeDeg >= -CYLINDER_UP_TO_DEG) {
    sizes.push(size("cylindrical", tanDeg(maxAltitudeDeg) - tanDeg(minAltitudeDeg)));
  }
  return sizes;
}

function tooMany(param: string, given: number): DomainError {
  const allowed = `a panorama of at most ${MOST_FRAMES} frames: take a shorter lens, or less of the scene`;
  return new DomainError({ code: "impossible", param, given, allowed });
}
