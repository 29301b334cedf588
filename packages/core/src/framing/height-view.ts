import { atanDeg, tanDeg } from "../angles";
import { type RidgePoint, ridgeAltitudeDeg } from "./ridge-behind";

/** A rectilinear lens as far as heights in the frame need it. */
export interface VerticalLens {
  readonly focalLengthMm: number;
  /** Height of the image on the sensor as the frame is held [mm]. */
  readonly heightMm: number;
  /** [px] */
  readonly heightPx?: number | undefined;
}

/** Whether the thing, from its foot or underside up, and the ridge go into one frame, with the camera turned to the thing. */
export type VerticalFraming =
  | {
      readonly kind: "fits";
      /** The angle that both take up, from the lowest to the highest point [deg]. */
      readonly verticalAngleDeg: number;
      /** The pitch that leaves as much room above as below [deg]. */
      readonly pitchDeg: number;
      /** The lowest and the highest pitch at which both are in the frame [deg]. */
      readonly minPitchDeg: number;
      readonly maxPitchDeg: number;
    }
  | { readonly kind: "too-tall"; readonly verticalAngleDeg: number; readonly lensAngleDeg: number };

/** What another 10 cm of camera height change. */
export interface HeightStep {
  /** How far the edge in front moves; sinking is negative [deg]. */
  readonly edgeDeg: number;
  readonly ridgeDeg: number;
  /** How far the gap opens; closing is negative. */
  readonly gapDeg: number;
  /** The same in the frame, at the pitch that centres both [% of the frame's height]. */
  readonly gapFramePercent: number;
  /** Present where the pixels are known. */
  readonly gapPx?: number;
}

export interface HeightView {
  readonly heightM: number;
  /** The ridge behind the thing's middle [deg]. */
  readonly ridgeAltitudeDeg: number;
  readonly topAltitudeDeg?: number;
  readonly undersideAltitudeDeg?: number;
  /** How far the ridge stands over the top or under the underside, the wider of the two [deg]; negative where it is hidden, 0 where they touch. */
  readonly gapDeg: number;
  readonly framing: VerticalFraming;
  readonly per10Cm: HeightStep;
}

export interface HeightViewRequest {
  readonly heightM: number;
  readonly distanceM: number;
  readonly topM?: number | undefined;
  readonly undersideM?: number | undefined;
  readonly middle: RidgePoint;
  /** All along the width of the thing. */
  readonly ridge: readonly RidgePoint[];
  readonly profileEyeHeightM: number;
  readonly lens: VerticalLens;
}

const STEP_M = 0.1;

/** What the camera sees of a thing and the ridge behind it from one height. */
export function heightView(request: HeightViewRequest): HeightView {
  const { heightM, distanceM, topM, undersideM, middle, ridge, profileEyeHeightM, lens } = request;
  const near = (edgeM: number, cameraM: number): number => atanDeg((edgeM - cameraM) / distanceM);
  const far = (cameraM: number): number => ridgeAltitudeDeg(middle, profileEyeHeightM, cameraM);
  const ridgeDeg = far(heightM);
  const overTopDeg = topM === undefined ? Number.NEGATIVE_INFINITY : ridgeDeg - near(topM, heightM);
  const underDeg = undersideM === undefined ? Number.NEGATIVE_INFINITY : near(undersideM, heightM) - ridgeDeg;
  const byTop = overTopDeg >= underDeg;
  const edgeM = (byTop ? topM : undersideM) as number;

  // what does not hang stands on the ground, or below it where its top does
  const footM = undersideM ?? Math.min(0, topM as number);
  const edges = [near(footM, heightM), near(topM ?? footM, heightM)];
  const all = [...edges, ridgeDeg, ...ridge.map((point) => ridgeAltitudeDeg(point, profileEyeHeightM, heightM))];
  const lowest = Math.min(...all);
  const highest = Math.max(...all);
  const pitchDeg = (lowest + highest) / 2;

  const higher = heightM + STEP_M;
  const edgeDeg = near(edgeM, heightM);
  // the sign that makes an opening gap positive
  const opening = byTop ? 1 : -1;
  const gapMm = (a: number, b: number): number => lens.focalLengthMm * (tanDeg(a - pitchDeg) - tanDeg(b - pitchDeg));
  const change = gapMm(far(higher), near(edgeM, higher)) - gapMm(ridgeDeg, edgeDeg);
  const gapShare = (opening * change) / lens.heightMm;
  return {
    heightM,
    ridgeAltitudeDeg: ridgeDeg,
    ...(topM === undefined ? {} : { topAltitudeDeg: near(topM, heightM) }),
    ...(undersideM === undefined ? {} : { undersideAltitudeDeg: near(undersideM, heightM) }),
    gapDeg: byTop ? overTopDeg : underDeg,
    framing: framingOf(lowest, highest, lens),
    per10Cm: {
      edgeDeg: near(edgeM, higher) - edgeDeg,
      ridgeDeg: far(higher) - ridgeDeg,
      gapDeg: opening * (far(higher) - near(edgeM, higher) - (ridgeDeg - edgeDeg)),
      gapFramePercent: 100 * gapShare,
      ...(lens.heightPx === undefined ? {} : { gapPx: gapShare * lens.heightPx }),
    },
  };
}

/** On the middle line of a rectilinear frame the two ends stand at equal distances from the centre where the axis halves the angle. */
function framingOf(lowestDeg: number, highestDeg: number, { focalLengthMm, heightMm }: VerticalLens): VerticalFraming {
  const verticalAngleDeg = highestDeg - lowestDeg;
  const lensAngleDeg = 2 * atanDeg(heightMm / (2 * focalLengthMm));
  if (verticalAngleDeg > lensAngleDeg) return { kind: "too-tall", verticalAngleDeg, lensAngleDeg };
  return {
    kind: "fits",
    verticalAngleDeg,
    pitchDeg: (lowestDeg + highestDeg) / 2,
    minPitchDeg: highestDeg - lensAngleDeg / 2,
    maxPitchDeg: lowestDeg + lensAngleDeg / 2,
  };
}
