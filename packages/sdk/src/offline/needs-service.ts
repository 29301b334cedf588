import { Refusal } from "@fieldstop/operations/problems";
import { answered } from "./answered.js";

/** Refuses what only the service can answer. */
export function needsService(path: string, why: string): Promise<never> {
  return answered(path, "json", {}, () => {
    throw new Refusal("unavailable", `This cannot be answered offline: ${why}.`);
  });
}
