import type { Dependencies } from "../dependencies";
import { rounded } from "../rounding";
import { type OutingRequest, outing, outingInput } from "./outing";

/** One evening or morning, planned. */
export async function planOuting(dependencies: Dependencies, request: OutingRequest) {
  return rounded(outing(await outingInput(dependencies, request)));
}
