import * as operations from "@fieldstop/operations/reference";
import type { GetReferenceTableData, ReferenceTable, ReferenceTables } from "../generated/types.gen.js";
import { answered } from "./answered.js";
import type { OfflineOptions } from "./options.js";

/** Which tables of the trade there are. */
export function listReferenceTables(options?: OfflineOptions): Promise<ReferenceTables> {
  return answered("/v1/reference", "query", options, () => operations.listReferenceTables());
}

/** One table of the trade. */
export function getReferenceTable(
  path: GetReferenceTableData["path"],
  options?: OfflineOptions,
): Promise<ReferenceTable> {
  return answered(`/v1/reference/${path.table}`, "param", options, () => operations.getReferenceTable(path));
}
