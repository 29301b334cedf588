export { listReferenceTables } from "./list";
export { getReferenceTable } from "./table";
export { REFERENCE_TABLES, type ReferenceTable } from "./tables";
