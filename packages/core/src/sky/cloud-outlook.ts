import { type CloudCover, requireCloudCover } from "./sky-types";

/** Whether cloud is likely to take colour from a low sun: an order, not a probability. */
export type CloudOutlookKind = "unlikely" | "possible" | "likely";

export interface CloudOutlook {
  readonly outlook: CloudOutlookKind;
  readonly reasons: readonly string[];
}

// Common practice, no source: cloud to be lit, and a gap toward the horizon to light it through
const LOW_CLOSES_PERCENT = 70;
const MIDDLE_CLOSES_PERCENT = 90;
const LOW_OPEN_PERCENT = 30;
const CANVAS_PERCENT = [20, 75] as const;

/**
 * Judge whether the sun near the horizon will light the cloud, by how much of it there is at each level. Guidance after common practice, with its
 * reasons; what stands beyond the horizon in the sun's way is not known here.
 * @param cover low, middle and high cloud [%], 0 to 100 each
 * @throws DomainError for a cover out of range
 * @example cloudOutlook({ low: 10, middle: 30, high: 50 }).outlook // "likely"
 */
export function cloudOutlook(cover: CloudCover): CloudOutlook {
  const { low, middle, high } = requireCloudCover(cover);
  const canvas = Math.max(middle, high);
  if (low >= LOW_CLOSES_PERCENT) {
    return { outlook: "unlikely", reasons: [`Low cloud over ${low} % of the sky keeps the low sun out.`] };
  }
  if (canvas < CANVAS_PERCENT[0] && low < CANVAS_PERCENT[0]) {
    return { outlook: "unlikely", reasons: ["There is hardly any cloud to take colour."] };
  }
  if (middle >= MIDDLE_CLOSES_PERCENT) {
    return { outlook: "unlikely", reasons: [`Middle cloud over ${middle} % of the sky lets little sun under it.`] };
  }
  const open = low < LOW_OPEN_PERCENT;
  const fit = canvas >= CANVAS_PERCENT[0] && canvas <= CANVAS_PERCENT[1];
  const reasons = [
    fit
      ? `Middle or high cloud over ${canvas} % of the sky takes colour and leaves gaps.`
      : `Middle or high cloud covers ${canvas} % of the sky.`,
    lowCloudReason(low),
  ];
  return { outlook: open && fit ? "likely" : "possible", reasons };
}

/** Whether cloud keeps the low sun out altogether. */
export function skyIsClosed({ low, middle }: CloudCover): boolean {
  return low >= LOW_CLOSES_PERCENT || middle >= MIDDLE_CLOSES_PERCENT;
}

function lowCloudReason(low: number): string {
  if (low === 0) return "There is no low cloud.";
  return low < LOW_OPEN_PERCENT
    ? `Low cloud covers only ${low} %.`
    : `Low cloud over ${low} % may stand in the sun's way.`;
}
