import { Refusal } from "./problems";
import { REFERENCE_TABLES } from "./reference-tables";
import { rounded } from "./rounding";

/** The tables of the trade. */
export function listReferenceTables() {
  const tables = [...REFERENCE_TABLES.values()].map(({ name, title, source, rows }) => {
    return { name, title, source, rowCount: rows.length };
  });
  return { tables };
}

/** One table of the trade. */
export function getReferenceTable({ table: name }: { readonly table: string }) {
  const table = REFERENCE_TABLES.get(name);
  if (table === undefined) {
    const names = [...REFERENCE_TABLES.keys()].join(", ");
    throw new Refusal("not-found", `There is no such table; there are: ${names}.`);
  }
  return rounded(table);
}
