import { webcrypto } from "node:crypto";
import { readdir, readFile, rm, stat, utimes } from "node:fs/promises";
import { join } from "node:path";
import { setImmediate } from "node:timers/promises";
import type cacache from "cacache";
import pLimit from "p-limit";
import type { ByteStore } from "../byte-store";
import { CHECKSUM } from "./checksum";
import { makeFolder } from "./make-folder";

export interface DiskStoreOptions {
  readonly folder: string;
  /** Most that the entries may take together [MB]. */
  readonly maxMb: number;
  /** Told once when the folder cannot be written to. */
  readonly warn?: (message: string) => void;
}

/** Share of the bound that is left after clearing out, so that not every entry clears out again. */
const CLEARED_TO = 0.9;
/** Share of the bound written since entries were counted at which they are counted again: other processes write as well. */
const COUNT_AGAIN = 0.1;
/** What no entry refers to, and is older than this, was left by a process that died [ms]. */
const ABANDONED_MS = 3_600_000;
/** Bytes hashed and written before others have their turn. */
const AT_A_TIME = 1_000_000;

/** Loaded with the first entry read: a service whose tiles lie in folders of its own starts sooner without. */
const library = async (): Promise<typeof cacache> => (await import("cacache")).default;

/** The library's own, with the option that its types leave out: no trace of the entry is left in the index. */
type Forget = (folder: string, key: string, options: { removeFully: true }) => Promise<unknown>;

/**
 * Bytes kept in a folder that several processes may share, each entry checked when it is read. A damaged entry counts as none; when
 * the folder is full the longest unused goes; one that cannot be written to is done without.
 */
export class DiskStore implements ByteStore {
  readonly folder: string;
  readonly #maxBytes: number;
  readonly #warn: (message: string) => void;
  #warned = false;
  /** Bytes in the folder when last counted, and written since. */
  #counted: number | undefined;
  #written = 0;
  /** One entry is written at a time. */
  readonly #inTurn = pLimit(1);

  constructor({ folder, maxMb, warn }: DiskStoreOptions) {
    this.folder = folder;
    this.#maxBytes = maxMb * 1_000_000;
    this.#warn = warn ?? (() => {});
  }

  async get(key: string): Promise<Uint8Array | null> {
    const found = await this.#find(key);
    if (found === null) return null;
    const bytes = await readFile(found.path).catch(() => null);
    if (bytes !== null && `${CHECKSUM}-${await digest(bytes)}` === found.integrity) {
      await touch(found.path);
      return new Uint8Array(bytes.buffer, bytes.byteOffset, bytes.length);
    }
    await this.delete(key);
    return null;
  }

  /** The file that holds what is kept under a key, for those who read it in parts and check them; null where there is none. */
  async fileOf(key: string): Promise<string | null> {
    const found = await this.#find(key);
    if (found === null) return null;
    if (await touch(found.path)) return found.path;
    // a folder of another's may be read all the same
    return (await stat(found.path).catch(() => null)) === null ? null : found.path;
  }

  async keptAtMs(key: string): Promise<number | null> {
    return (await this.#find(key))?.time ?? null;
  }

  set(key: string, bytes: Uint8Array): Promise<void> {
    return this.setBy(bytes.length, () => this.#put(key, bytes));
  }

  /** Most that an entry may take [B]. */
  get mostBytes(): number {
    return this.#maxBytes;
  }

  /** Counts in an entry that someone else has written, such as another thread. */
  grew(size: number): Promise<void> {
    return this.setBy(size, async () => {});
  }

  /** Says once that the folder cannot be written to. */
  warnOnce(code: string): void {
    if (this.#warned) return;
    this.#warned = true;
    this.#warn(`FIELDSTOP_CACHE_DIR cannot be written to (${code}): elevation tiles and skylines are not kept`);
  }

  /** Has an entry of about a size written by someone else, such as another thread. */
  setBy(size: number, write: () => Promise<unknown>): Promise<void> {
    return this.#inTurn(async () => {
      // the library takes nothing for a fault
      if (size === 0 || size > this.#maxBytes) return;
      try {
        await makeFolder(this.folder);
        await this.#makeRoom(size);
        await write();
        this.#written += size;
      } catch (error) {
        this.warnOnce(error instanceof Error && "code" in error ? String(error.code) : String(error));
      }
    });
  }

  async delete(key: string): Promise<void> {
    const found = await this.#find(key);
    if (found === null) return;
    const forget = (await library()).rm.entry as Forget;
    await forget(this.folder, key, { removeFully: true }).catch(() => {});
    await rm(found.path, { force: true }).catch(() => {});
  }

  async #find(key: string): Promise<cacache.CacheObject | null> {
    const { get } = await library();
    return get.info(this.folder, key).catch(() => null);
  }

  async #put(key: string, bytes: Uint8Array): Promise<void> {
    const before = await this.#find(key);
    const stream = (await library()).put.stream(this.folder, key, { algorithms: [CHECKSUM] });
    const done = stream.promise();
    done.catch(() => {});
    for (let from = 0; from < bytes.length; from += AT_A_TIME) {
      if (from > 0) await setImmediate();
      stream.write(Buffer.from(bytes.buffer, bytes.byteOffset + from, Math.min(AT_A_TIME, bytes.length - from)));
    }
    stream.end();
    await done;
    const after = await this.#find(key);
    if (before !== null && before.path !== after?.path) await rm(before.path, { force: true });
  }

  async #makeRoom(size: number): Promise<void> {
    if (this.#counted === undefined || this.#written > this.#maxBytes * COUNT_AGAIN) {
      const entries = Object.values(await (await library()).ls(this.folder));
      this.#counted = entries.reduce((sum, entry) => sum + entry.size, 0);
      this.#written = 0;
    }
    if (this.#counted + this.#written + size > this.#maxBytes) await this.#clearOut(size);
  }

  async #clearOut(sizeToCome: number): Promise<void> {
    const entries: { key: string; path: string; size: number; usedMs: number }[] = [];
    for (const { key, path } of Object.values(await (await library()).ls(this.folder))) {
      const found = await stat(path).catch(() => null);
      entries.push({ key, path, size: found?.size ?? 0, usedMs: found?.mtimeMs ?? 0 });
    }
    entries.sort((a, b) => a.usedMs - b.usedMs);
    let bytes = entries.reduce((sum, entry) => sum + entry.size, 0);
    for (const { key, path, size } of entries) {
      if (bytes + sizeToCome <= this.#maxBytes * CLEARED_TO) break;
      const forget = (await library()).rm.entry as Forget;
      await forget(this.folder, key, { removeFully: true });
      await rm(path, { force: true });
      bytes -= size;
    }
    await this.#sweep(new Set(entries.map(({ path }) => path)));
    this.#counted = bytes;
    this.#written = 0;
  }

  /** Removes what processes that died have left: unfinished files, and contents that no entry refers to. */
  async #sweep(known: ReadonlySet<string>): Promise<void> {
    for (const name of await readdir(this.folder, { recursive: true })) {
      const path = join(this.folder, name);
      if (!/^(content-|tmp)/.test(name) || known.has(path)) continue;
      const found = await stat(path).catch(() => null);
      if (found?.isFile() && Date.now() - found.mtimeMs > ABANDONED_MS) await rm(path, { force: true });
    }
  }
}

/** Off the event loop: tiles run to tens of megabytes. */
async function digest(bytes: Uint8Array): Promise<string> {
  return Buffer.from(await webcrypto.subtle.digest("SHA-256", bytes as Uint8Array<ArrayBuffer>)).toString("base64");
}

/** Notes that a file was used, by which the longest unused is told; false where that cannot be noted. */
async function touch(path: string): Promise<boolean> {
  const now = new Date();
  return utimes(path, now, now).then(
    () => true,
    () => false,
  );
}
