import { DomainError } from "@fieldstop/core/domain-error";
import type { Dependencies } from "@fieldstop/operations";
import { answered } from "./answered.js";
import type { OfflineOptions } from "./options.js";
import type { RequestPart } from "./request-part.js";

/** An operation's answer at a place: with the clock of the device, and a time zone where the request gives none. */
export function answeredAt<T>(
  path: string,
  requestPart: RequestPart,
  options: OfflineOptions | undefined,
  places: readonly ({ readonly timeZone?: string | undefined } | undefined)[],
  calculate: (dependencies: Dependencies) => T | Promise<T>,
): Promise<T> {
  return answered(path, requestPart, options, async () => {
    const unknown = places.some((place) => place !== undefined && place.timeZone === undefined);
    const timeZoneAt =
      options?.timeZoneAt ?? (unknown ? (await import("./time-zones.js")).timeZoneAt : () => "Etc/UTC");
    return calculate({ timeZoneAt, nowMs: () => options?.nowMs ?? Date.now() });
  });
}

/** Refuses a skyline from elevation data where it is asked for by name. */
export function refuseTerrain(horizon: { readonly kind: string } | undefined, param = "horizon.kind"): void {
  if (horizon?.kind !== "terrain") return;
  const allowed = "flat or profile: there is no elevation data offline";
  throw new DomainError({ code: "impossible", param, given: "terrain", allowed });
}
