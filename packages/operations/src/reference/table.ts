import { Refusal } from "../problems/refusal";
import { rounded } from "../rounding";
import { REFERENCE_TABLES } from "./tables";

/** One table of the trade. */
export function getReferenceTable({ table: name }: { readonly table: string }) {
  const table = REFERENCE_TABLES.get(name);
  if (table === undefined) {
    const names = [...REFERENCE_TABLES.keys()].join(", ");
    throw new Refusal("not-found", `There is no such table; there are: ${names}.`);
  }
  return rounded(table);
}
