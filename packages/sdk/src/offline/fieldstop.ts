import type { Fieldstop } from "../fieldstop.js";
import * as brackets from "./brackets.js";
import * as exposure from "./exposure.js";
import * as filters from "./filters.js";
import * as forecast from "./forecast.js";
import * as framing from "./framing.js";
import * as horizon from "./horizon.js";
import * as light from "./light.js";
import * as optics from "./optics.js";
import type { OfflineOptions } from "./options.js";
import * as outings from "./outings.js";
import * as reference from "./reference.js";
import * as sky from "./sky.js";
import * as water from "./water.js";

/**
 * The same object as `createFieldstop` makes, answered without a network: one can stand for the other while there is no coverage.
 * What only the service can answer is refused with a `FieldstopProblem` that says so.
 * @param defaults the present and the time zones for all calls
 */
export function createOfflineFieldstop(defaults: Omit<OfflineOptions, "signal"> = {}): Fieldstop {
  return withDefaults(
    { sky, light, horizon, framing, water, exposure, filters, brackets, optics, outings, forecast, reference },
    defaults,
  );
}

/** Calls whose only argument is their options. */
const WITHOUT_INPUT: ReadonlySet<string> = new Set<keyof typeof reference>(["listReferenceTables"]);

type Calls = Record<string, Record<string, (...args: never[]) => unknown>>;

/** Each call with the defaults among its options, which are its last argument. */
function withDefaults<T extends Calls>(subjects: T, defaults: OfflineOptions): T {
  const bound = Object.entries(subjects).map(([subject, calls]) => [
    subject,
    Object.fromEntries(
      Object.entries(calls).map(([name, call]) => {
        const at = WITHOUT_INPUT.has(name) ? 0 : 1;
        return [
          name,
          (...args: unknown[]) => {
            const options = { ...defaults, ...(args[at] as OfflineOptions | undefined) };
            return call(...([...args.slice(0, at), options] as never[]));
          },
        ];
      }),
    ),
  ]);
  return Object.fromEntries(bound) as T;
}
