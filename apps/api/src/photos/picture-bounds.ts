import { UnreadablePhoto } from "./unreadable-photo";

export const MAX_PIXELS = 100_000_000;
/** More than any camera records; a picture of few rows or columns costs the decoder far more than its area says. */
const MAX_SIDE_PIXELS = 50_000;

/** @throws UnreadablePhoto for a picture that is too large, or has no area */
export function requireSize(widthPx: number, heightPx: number): void {
  requireArea(widthPx, heightPx, MAX_PIXELS, "this picture is too large");
  if (Math.max(widthPx, heightPx) <= MAX_SIDE_PIXELS) return;
  const allowed = `at most ${MAX_SIDE_PIXELS} pixels on a side`;
  throw new UnreadablePhoto("this picture is too long", `${widthPx} × ${heightPx} pixels`, allowed);
}

/** @throws UnreadablePhoto */
export function requireArea(widthPx: number, heightPx: number, maxPixels: number, detail: string): void {
  const pixels = widthPx * heightPx;
  if (pixels > 0 && pixels <= maxPixels) return;
  const allowed = `1 to ${maxPixels / 1e6} million pixels`;
  throw new UnreadablePhoto(detail, `${widthPx} × ${heightPx} pixels`, allowed);
}
