import { REFUSALS, Refusal, refusalFromDomain, type Surroundings } from "@fieldstop/answers";
import { DomainError } from "@fieldstop/core";
import { FieldstopProblem } from "../problem.js";
import type { OfflineOptions } from "./options.js";

/** Which part of a request an operation is asked by. */
type AskedBy = "query" | "json" | "param";

/** An operation's answer, or a `FieldstopProblem` that says what the service would have said. */
export async function answered<T>(
  path: string,
  askedBy: AskedBy,
  { signal }: OfflineOptions = {},
  calculate: () => T | Promise<T>,
): Promise<T> {
  signal?.throwIfAborted();
  try {
    const answer = await calculate();
    signal?.throwIfAborted();
    return answer;
  } catch (error) {
    if (error instanceof Refusal) throw problemOf(error, path);
    if (error instanceof DomainError) throw problemOf(refusalFromDomain(error, askedBy), path);
    throw error;
  }
}

/** The same at a place: with the clock of the device, and a time zone where the request gives none. */
export function answeredAt<T>(
  path: string,
  askedBy: AskedBy,
  options: OfflineOptions | undefined,
  places: readonly ({ readonly timeZone?: string | undefined } | undefined)[],
  calculate: (surroundings: Surroundings) => T | Promise<T>,
): Promise<T> {
  return answered(path, askedBy, options, async () => {
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

/** Refuses what only the service can answer. */
export async function needsService(path: string, why: string): Promise<never> {
  throw problemOf(new Refusal("unavailable", `This cannot be answered offline: ${why}.`), path);
}

function problemOf({ key, detail, errors }: Refusal, instance: string): FieldstopProblem {
  const { title, status } = REFUSALS[key];
  return new FieldstopProblem({
    type: `/problems/${key}`,
    title,
    status,
    detail,
    instance,
    ...(errors === undefined ? {} : { errors: [...errors] }),
  });
}
