import { rounded } from "../rounding";
import type { Surroundings } from "../surroundings";
import { type OutingAsked, outingAt } from "./outing-at";

/** One evening or morning, planned. */
export async function planOuting(surroundings: Surroundings, asked: OutingAsked) {
  return rounded(await outingAt(surroundings, asked));
}
