import { constants } from "node:os";

/** The ledger's file cannot be written any more, or is damaged. What it had not noted before does not count as done. */
export class LedgerFault extends Error {
  override readonly name = "LedgerFault";

  constructor(
    readonly file: string,
    detail: string,
    cause?: unknown,
  ) {
    super(`The ledger ${file} ${detail}`, { cause });
  }
}

/** What an error of the store or of its disk means for the ledger; undefined where it lies with neither. */
export function ledgerFaultOf(file: string, error: unknown): LedgerFault | undefined {
  if (error instanceof LedgerFault) return error;
  const { code, message = "" } = error as { code?: unknown; message?: string };
  if (FULL.has(code)) return new LedgerFault(file, "cannot be written: the disk is full.", error);
  if (/^MDB_(CORRUPTED|INVALID|PAGE_NOTFOUND|PANIC|VERSION_MISMATCH)\b/.test(message)) {
    return new LedgerFault(file, `is damaged (${message}).`, error);
  }
  // a write that the disk took a part of
  if (code === constants.errno.EIO)
    return new LedgerFault(file, "cannot be written: the disk is full or faulty.", error);
  // the store tells the system's errors by their number
  if (typeof code === "number") return new LedgerFault(file, `cannot be written (${message}).`, error);
  return undefined;
}

const FULL = new Set<unknown>([constants.errno.ENOSPC, constants.errno.EDQUOT, "ENOSPC", "EDQUOT"]);
