import type { Dependencies } from "../dependencies";
import { rounded } from "../rounding";
import { type FrameRequest, frameAt } from "./frame-at";

/** The skyline in the frame, and where sun and moon stand in it. */
export async function projectSkyline(dependencies: Dependencies, request: FrameRequest) {
  return rounded((await frameAt(dependencies, request)).frame);
}
