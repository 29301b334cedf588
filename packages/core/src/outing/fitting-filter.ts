import type { GraduatedFilter } from "../filters/filter";
import { assessGraduated } from "../filters/graduated";
import { type FramingCamera, frameProjection } from "../framing/projection";
import type { SkylineInFrame } from "../framing/skyline";
import type { SkyPoint } from "../sky/sky-types";
import type { GraduatedChoice } from "./approach";
import type { ApproachReason } from "./approach-reasons";
import type { SceneTones } from "./scene-tones";

/** A filter that fits, and why not a stronger one. */
export interface FittingFilter {
  readonly choice: GraduatedChoice;
  readonly notes: readonly ApproachReason[];
}

export interface FittingFilterRequest {
  readonly tones: SceneTones;
  readonly bag: readonly GraduatedFilter[];
  readonly skyline: () => SkylineInFrame;
  readonly framing: FramingCamera;
  readonly sun: SkyPoint;
  /** Whether trunks, rocks or walls stand across the skyline. */
  readonly isCrossed: boolean;
}

// Our own choice: over a skyline as low as this lies the open sea, whose swell mirrors nothing
const SEA_LINE_DEG = 0.2;

/** The graduated filter of the bag that fits a frame, as {@link assessGraduated} judges it, or why none does. */
export function fittingFilter(request: FittingFilterRequest): FittingFilter | { readonly why: ApproachReason } {
  const { tones, bag, framing, sun } = request;
  if (bag.length === 0) {
    return { why: { code: "no-graduated-filter", text: "No graduated filter is in the bag." } };
  }
  if (request.isCrossed) {
    const text = "What stands across the skyline would go dark behind a graduated filter.";
    return { why: { code: "things-cross-the-skyline", text } };
  }
  const skyline = request.skyline();
  if (skyline.line === null) {
    return {
      why: { code: "no-skyline-in-frame", text: "No skyline crosses the frame to lay a graduated filter along." },
    };
  }
  const { filter, reasons } = assessGraduated({
    skyline,
    projection: frameProjection(framing),
    contrastStops: Math.max(-40, Math.min(40, tones.skyEv100 - tones.groundEv100)),
    reflectionStops: reflectionStops(skyline, tones.skyEv100, tones.stillWaterEv100),
    sun,
    available: bag,
  });
  if (filter !== null) {
    const { stops, transition, mark, tiltDeg } = filter;
    const weaker = reasons.filter(({ code }) => code === "over-still-water");
    return {
      choice: { stops, transition, mark, tiltDeg },
      notes: weaker.map(({ text }) => ({ code: "over-still-water", text })),
    };
  }
  const told = reasons.filter(({ code }) => code !== "use-a-bracket").at(-1);
  return {
    why: { code: "graduated-does-not-fit", text: told?.text ?? "No graduated filter at hand fits this frame." },
  };
}

/** How much darker than the sky its reflection in water before a skyline is [stops]; undefined where that is the open sea, which is never still. */
export function reflectionStops(
  skyline: SkylineInFrame,
  skyEv100: number,
  stillWaterEv100: number,
): number | undefined {
  const isSea = skyline.points.every(({ altitudeDeg }) => altitudeDeg <= SEA_LINE_DEG);
  return isSea ? undefined : skyEv100 - stillWaterEv100;
}
