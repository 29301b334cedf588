import { DomainError, type DomainErrorDetails } from "@fieldstop/core";
import { TileError } from "@fieldstop/terrain/work";

/** How a job ended, as plain data: errors lose their class and their fields on the way from one thread to another. */
export type Outcome<T> =
  | { readonly kind: "done"; readonly value: T }
  | { readonly kind: "refused"; readonly details: DomainErrorDetails }
  | { readonly kind: "bad-tile"; readonly file: string; readonly reason: string }
  | { readonly kind: "fault"; readonly message: string; readonly stack: string | undefined };

export async function outcomeOf<T>(work: () => Promise<T>): Promise<Outcome<T>> {
  try {
    return { kind: "done", value: await work() };
  } catch (error) {
    if (error instanceof DomainError) {
      const { code, param, given, allowed, unit } = error;
      return { kind: "refused", details: { code, param, given, allowed, ...(unit !== undefined && { unit }) } };
    }
    if (error instanceof TileError) return { kind: "bad-tile", file: error.file, reason: error.reason };
    if (error instanceof Error) return { kind: "fault", message: error.message, stack: error.stack };
    return { kind: "fault", message: String(error), stack: undefined };
  }
}

/**
 * The value of a job that was done.
 * @throws what the job threw
 */
export function resultOf<T>(outcome: Outcome<T>): T {
  switch (outcome.kind) {
    case "done":
      return outcome.value;
    case "refused":
      throw new DomainError(outcome.details);
    case "bad-tile":
      throw new TileError(outcome.file, outcome.reason);
    case "fault": {
      const fault = new Error(outcome.message);
      // where it happened, not where it was told of
      if (outcome.stack !== undefined) fault.stack = outcome.stack;
      throw fault;
    }
  }
}
