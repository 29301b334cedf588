import { DomainError } from "../domain-error";
import type { SensorReading } from "./sensor";

/** What is left of a frame when it is cut to another shape. */
export interface Crop {
  readonly widthMm: number;
  readonly heightMm: number;
  /** Which edges are cut. */
  readonly cut: "top-and-bottom" | "sides" | "nothing";
  readonly keptPercent: number;
  readonly lostPercent: number;
  /** Present where the pixels are known, as are the next two. */
  readonly widthPx?: number;
  readonly heightPx?: number;
  readonly megapixels?: number;
}

const ASPECT = /^(\d{1,4}(?:\.\d{1,3})?):(\d{1,4}(?:\.\d{1,3})?)$/;

/**
 * Parse the width of a shape over its height from how people write it: `16:9`, `1:1`, `2.39:1`.
 * @throws DomainError for other text, or a shape longer than 20:1
 * @example parseAspect("16:9") // 1.778
 */
export function parseAspect(text: string, param = "cropAspect"): number {
  const match = ASPECT.exec(text);
  const ratio = match === null ? Number.NaN : Number(match[1]) / Number(match[2]);
  if (!(ratio >= 1 / 20 && ratio <= 20)) {
    throw new DomainError({ param, given: text, allowed: "width to height, such as 16:9, 1:1 or 4:5, up to 20:1" });
  }
  return ratio;
}

/**
 * Compute the largest cut of a frame to another shape, and what it costs: 16:9 from 3:2 loses 15.6 % off top and bottom.
 * @param frame the sensor as the frame is held
 * @param aspect wanted width over height [1], 1/20 to 20
 * @returns sides [mm] and [px], what is kept [%]
 * Source: geometry. Accuracy: exact; pixels are whole. Held by tests/core/optics/crop.spec.ts.
 * @example cropTo(readSensor("full-frame"), 16 / 9).keptPercent // 84.375
 */
export function cropTo(frame: SensorReading, aspect: number): Crop {
  const has = frame.widthMm / frame.heightMm;
  // a shape within rounding of the frame's own costs nothing
  const same = Math.abs(aspect / has - 1) < 1e-9;
  const widthPart = same || aspect > has ? 1 : aspect / has;
  const heightPart = same || aspect < has ? 1 : has / aspect;
  const keptPercent = 100 * widthPart * heightPart;
  const crop: Crop = {
    widthMm: frame.widthMm * widthPart,
    heightMm: frame.heightMm * heightPart,
    cut: same ? "nothing" : aspect > has ? "top-and-bottom" : "sides",
    keptPercent,
    lostPercent: 100 - keptPercent,
  };
  if (frame.widthPx === undefined || frame.heightPx === undefined) return crop;
  const widthPx = Math.floor(frame.widthPx * widthPart + 1e-9);
  const heightPx = Math.floor(frame.heightPx * heightPart + 1e-9);
  return Object.assign(crop, { widthPx, heightPx, megapixels: (widthPx * heightPx) / 1e6 });
}
