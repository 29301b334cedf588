import { closeSync, fstatSync, openSync, readSync, statSync } from "node:fs";
import { LedgerFault } from "./ledger-fault";

/*
 * LMDB maps its file into memory, and a process that touches a page past the end of the file is killed. So the size is
 * compared with what the file's own headers say before it is opened. They are the first two pages; the one of the later
 * transaction counts (liblmdb: an MDB_meta behind an MDB_page_header).
 */
const OFFSET = { magic: 24, version: 28, pageSize: 48, lastPage: 144, transaction: 152 };
const HEADER_BYTES = 160;
const MAGIC = 0xbeefc0de;
const VERSION = 2;
const PAGE_SIZES = [4096, 8192, 16_384, 32_768, 65_536];

/**
 * Check that a ledger's file is whole, without mapping it.
 * @param begun whether the ledger was in use before; until then there may be no file, or an empty one
 * @throws LedgerFault where it is not
 */
export function requireWhole(file: string, begun: boolean): void {
  const found = statSync(file, { throwIfNoEntry: false });
  const size = found?.size ?? 0;
  if (found !== undefined && !found.isFile()) throw new LedgerFault(file, "is no plain file.");
  if (size === 0 && !begun) return;
  if (size === 0) throw new LedgerFault(file, found === undefined ? "is gone." : "is damaged: it is empty.");
  const descriptor = openSync(file, "r");
  try {
    const needed = bytesNeeded(descriptor);
    if (needed === undefined) throw new LedgerFault(file, "is damaged: it does not begin as a ledger does.");
    // the file may have grown meanwhile: another process writes to it
    const present = fstatSync(descriptor).size;
    if (present < needed) throw new LedgerFault(file, `is damaged: it has ${present} bytes of ${needed}.`);
  } finally {
    closeSync(descriptor);
  }
}

/** Read how many bytes the file has by its own account; undefined where its headers are none. */
function bytesNeeded(descriptor: number): number | undefined {
  const first = headerAt(descriptor, 0);
  const second = first && headerAt(descriptor, first.pageSize);
  if (first === undefined || second === undefined) return undefined;
  const { lastPage } = first.transaction > second.transaction ? first : second;
  return (lastPage + 1) * first.pageSize;
}

function headerAt(descriptor: number, position: number) {
  const bytes = Buffer.alloc(HEADER_BYTES);
  if (readSync(descriptor, bytes, 0, HEADER_BYTES, position) < HEADER_BYTES) return undefined;
  const pageSize = bytes.readUInt32LE(OFFSET.pageSize);
  const known = bytes.readUInt32LE(OFFSET.magic) === MAGIC && bytes.readUInt16LE(OFFSET.version) === VERSION;
  if (!known || !PAGE_SIZES.includes(pageSize)) return undefined;
  const lastPage = Number(bytes.readBigUInt64LE(OFFSET.lastPage));
  return { pageSize, lastPage, transaction: bytes.readBigUInt64LE(OFFSET.transaction) };
}
