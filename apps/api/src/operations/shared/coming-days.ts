import { addDays, DomainError } from "@fieldstop/core";
import { placeTime } from "@fieldstop/operations";
import type { Services } from "../../services";

interface DaysInput {
  readonly place: { readonly latitude: number; readonly longitude: number; readonly timeZone?: string | undefined };
  /** The first; default today at the place. */
  readonly date?: string | undefined;
  readonly days: number;
}

/** List some local days in a row; days past the last year are left out. */
export function comingDays(services: Services, { place, date, days }: DaysInput): string[] {
  const first = date ?? placeTime(services, place).clock.dateAt(services.nowMs());
  return eachPossible(
    Array.from({ length: days }, (_, i) => i),
    (i) => addDays(first, i),
  );
}

/**
 * Compute a value for each item, leaving out those that have none.
 * @throws DomainError of the first, where none has a value
 */
export function eachPossible<Item, Value>(items: readonly Item[], compute: (item: Item) => Value): Value[] {
  const found = new PossibleValues<Value>();
  for (const item of items) {
    try {
      found.values.push(compute(item));
    } catch (error) {
      found.leaveOut(error);
    }
  }
  return found.all();
}

/** The same for values that have to be looked up, one after another. */
export async function eachPossibleInTurn<Item, Value>(
  items: readonly Item[],
  lookUp: (item: Item) => Promise<Value>,
): Promise<Value[]> {
  const found = new PossibleValues<Value>();
  for (const item of items) {
    try {
      found.values.push(await lookUp(item));
    } catch (error) {
      found.leaveOut(error);
    }
  }
  return found.all();
}

class PossibleValues<Value> {
  readonly values: Value[] = [];
  #refusal: unknown;

  leaveOut(error: unknown): void {
    if (!(error instanceof DomainError && error.code === "impossible")) throw error;
    this.#refusal ??= error;
  }

  all(): Value[] {
    if (this.values.length === 0) throw this.#refusal;
    return this.values;
  }
}
