import type { Diffraction } from "./camera-optics";
import type { FocusForWanted } from "./focus-for-wanted";
import { hyperfocalDistanceM } from "./hyperfocal";
import { blurDiameterMm, type Distance, type SharpLimits, type ThinLens } from "./thin-lens";

export type FocusAdviceCode =
  | "focus-at-hyperfocal"
  | "focus-nearer"
  | "infinity-is-soft"
  | "diffraction-softens"
  | "wanted-is-covered"
  | "refocus"
  | "stop-down"
  | "focus-stack";

/** Where to focus, and why. The code is stable; the text is for people. */
export interface FocusAdvice {
  readonly code: FocusAdviceCode;
  readonly text: string;
}

/** Where to focus from here: by what should be sharp where that is known, otherwise by the hyperfocal distance. */
export function focusAdvice(
  lens: ThinLens,
  focusDistanceM: Distance,
  { nearM, far }: SharpLimits,
  diffraction: Diffraction,
  forWanted: FocusForWanted | undefined,
): FocusAdvice[] {
  const advice: FocusAdvice[] = forWanted === undefined ? [] : [wantedAdvice(forWanted)];
  const hyperfocalM = hyperfocalDistanceM(lens);
  if (far.kind === "distance" && focusDistanceM !== "infinity") {
    const times = blurDiameterMm(lens, focusDistanceM, "infinity") / lens.circleOfConfusionMm;
    const text = `Sharp from ${metres(nearM)} to ${metres(far.distanceM)}; what is far away is ${times.toFixed(1)} times too blurred.`;
    advice.push({ code: "infinity-is-soft", text });
  }
  // at the hyperfocal distance itself there is nothing nearer to gain
  if (far.kind === "infinity" && (focusDistanceM === "infinity" || focusDistanceM > hyperfocalM * 1.001)) {
    const text = `Focused at ${metres(hyperfocalM)} it would be sharp from ${metres(hyperfocalM / 2)} instead of ${metres(nearM)}, still to infinity.`;
    advice.push({ code: "focus-nearer", text });
  } else if (forWanted === undefined) {
    const text = `Focused at ${metres(hyperfocalM)} or a little beyond, it is sharp from ${metres(hyperfocalM / 2)} to infinity.`;
    advice.push({ code: "focus-at-hyperfocal", text });
  }
  if (diffraction.airyDiameterUm > lens.circleOfConfusionMm * 1000) {
    const open = diffraction.apertureAtCircleOfConfusion;
    const text = `Diffraction alone blurs more than is allowed: open up to f/${open.toFixed(1)} or wider.`;
    advice.push({ code: "diffraction-softens", text });
  }
  return advice;
}

function wantedAdvice({ kind, focusDistanceM, aperture }: FocusForWanted): FocusAdvice {
  switch (kind) {
    case "covered":
      return { code: "wanted-is-covered", text: "All that should be sharp is." };
    case "refocus":
      return { code: "refocus", text: `Focus at ${metres(focusDistanceM)}: then this aperture holds it all.` };
    case "stop-down": {
      const text = `Focus at ${metres(focusDistanceM)} and stop down to ${aperture.nominal}.`;
      return { code: "stop-down", text };
    }
    case "focus-stack": {
      const text = `One frame would need ${aperture.nominal}, past the lens or past diffraction: take a focus stack.`;
      return { code: "focus-stack", text };
    }
  }
}

function metres(distanceM: number): string {
  if (distanceM >= 100) return `${Math.round(distanceM)} m`;
  return `${distanceM.toFixed(distanceM >= 10 ? 1 : 2)} m`;
}
