import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type FrameAsked, frameAt } from "./frame-at";

/** The skyline in the frame, and where sun and moon stand in it. */
export async function projectSkyline(surroundings: Surroundings, asked: FrameAsked) {
  return rounded((await frameAt(surroundings, asked)).frame);
}
