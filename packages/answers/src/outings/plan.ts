import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type OutingAsked, outing, outingInput } from "./outing";

/** One evening or morning, planned. */
export async function planOuting(surroundings: Surroundings, asked: OutingAsked) {
  return rounded(outing(await outingInput(surroundings, asked)));
}
