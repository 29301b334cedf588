import { REFERENCE_TABLES } from "./tables";

/** The tables of the trade. */
export function listReferenceTables() {
  const tables = [...REFERENCE_TABLES.values()].map(({ name, title, source, rows }) => {
    return { name, title, source, rowCount: rows.length };
  });
  return { tables };
}
