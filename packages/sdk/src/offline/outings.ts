import { DomainError } from "@fieldstop/core/domain-error";
import * as operations from "@fieldstop/operations/outings";
import type { OutingComparison, OutingComparisonInput, OutingInput, OutingPlan } from "../generated/types.gen.js";
import { answeredAt, refuseTerrain } from "./answered-at.js";
import type { OfflineOptions } from "./options.js";

/** One evening or morning, planned without a network: no terrain and no tide but what is given. */
export function planOuting(body: OutingInput, options?: OfflineOptions): Promise<OutingPlan> {
  return answeredAt("/v1/outings/plan", "json", options, [body.place], (around) => {
    refuseTerrain(body.horizon);
    refuseTide(body.tideStation);
    return operations.planOuting(around, body);
  });
}

/** Places and days against each other, without a network. */
export function compareOutings(body: OutingComparisonInput, options?: OfflineOptions): Promise<OutingComparison> {
  const places = body.places.map(({ place }) => place);
  return answeredAt("/v1/outings/compare", "json", options, places, (around) => {
    for (const [i, { horizon }] of body.places.entries()) refuseTerrain(horizon, `places.${i}.horizon.kind`);
    return operations.compareOutings(around, body);
  });
}

function refuseTide(tideStation: string | undefined): void {
  if (tideStation === undefined) return;
  const allowed = "no station: there are no tide data offline";
  throw new DomainError({ code: "impossible", param: "tideStation", given: tideStation, allowed });
}
