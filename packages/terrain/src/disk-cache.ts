import { createHash, randomUUID, webcrypto } from "node:crypto";
import { mkdir, readdir, readFile, rename, rm, stat, utimes, writeFile } from "node:fs/promises";
import { dirname, join } from "node:path";

export interface DiskCacheOptions {
  readonly folder: string;
  /** Most that the entries may take together [MB]. */
  readonly maxMb: number;
  /** Told once when the folder cannot be written to. */
  readonly warn?: (message: string) => void;
}

const CHECKSUM_BYTES = 32;
/** Share of the bound that is left after clearing out, so that not every entry clears out again. */
const CLEARED_TO = 0.9;
const ENTRY = /^[0-9a-f]{64}$/;
/** Unfinished files older than this were left by a process that died [ms]. */
const ABANDONED_MS = 3_600_000;

/**
 * Tiles fetched from remotes, kept on disk: each entry a file named by the hash of its key, its checksum first, put in place in one
 * step, so that several processes may share a folder. A damaged entry counts as none; a folder that cannot be written to is done
 * without.
 */
export class DiskCache {
  readonly #folder: string;
  readonly #maxBytes: number;
  readonly #warn: (message: string) => void;
  #warned = false;
  /** Bytes in the folder, as far as this process knows; counted when first needed. */
  #bytes: number | undefined;
  #putting: Promise<void> = Promise.resolve();

  constructor({ folder, maxMb, warn }: DiskCacheOptions) {
    this.#folder = folder;
    this.#maxBytes = maxMb * 1_000_000;
    this.#warn = warn ?? (() => {});
  }

  /** The bytes kept under a key; null where there are none, or not those that were put. */
  async get(key: string): Promise<Uint8Array | null> {
    const path = this.#pathOf(key);
    let entry: Uint8Array;
    try {
      entry = await readFile(path);
    } catch {
      return null;
    }
    const bytes = new Uint8Array(entry.subarray(CHECKSUM_BYTES));
    if (Buffer.compare(await checksum(bytes), entry.subarray(0, CHECKSUM_BYTES)) !== 0) {
      await this.forget(key);
      return null;
    }
    const now = new Date();
    // the age by which entries are cleared out; where it cannot be noted the cache works all the same
    await utimes(path, now, now).catch(() => {});
    return bytes;
  }

  /** Keeps bytes under a key, after clearing out the longest unused where there is no room. Never fails. */
  put(key: string, bytes: Uint8Array): Promise<void> {
    this.#putting = this.#putting.then(() => this.#put(key, bytes));
    return this.#putting;
  }

  async forget(key: string): Promise<void> {
    await rm(this.#pathOf(key), { force: true }).catch(() => {});
  }

  async #put(key: string, bytes: Uint8Array): Promise<void> {
    const size = bytes.length + CHECKSUM_BYTES;
    if (size > this.#maxBytes) return;
    const path = this.#pathOf(key);
    const unfinished = join(dirname(path), `.${randomUUID()}`);
    try {
      await mkdir(dirname(path), { recursive: true });
      this.#bytes ??= (await this.#entries()).reduce((sum, entry) => sum + entry.size, 0);
      if (this.#bytes + size > this.#maxBytes) await this.#clearOut(size);
      await writeFile(unfinished, Buffer.concat([await checksum(bytes), bytes]));
      await rename(unfinished, path);
      this.#bytes += size;
    } catch (error) {
      await rm(unfinished, { force: true }).catch(() => {});
      this.#warnOnce(error);
    }
  }

  async #clearOut(sizeToCome: number): Promise<void> {
    const entries = (await this.#entries()).sort((a, b) => a.usedMs - b.usedMs);
    let bytes = entries.reduce((sum, entry) => sum + entry.size, 0);
    for (const { path, size } of entries) {
      if (bytes + sizeToCome <= this.#maxBytes * CLEARED_TO) break;
      await rm(path, { force: true });
      bytes -= size;
    }
    this.#bytes = bytes;
  }

  async #entries(): Promise<{ path: string; size: number; usedMs: number }[]> {
    const entries: { path: string; size: number; usedMs: number }[] = [];
    for (const name of await readdir(this.#folder, { recursive: true })) {
      const path = join(this.#folder, name);
      const found = await stat(path).catch(() => null);
      if (found === null || !found.isFile()) continue;
      const file = name.slice(-64);
      if (ENTRY.test(file)) entries.push({ path, size: found.size, usedMs: found.mtimeMs });
      else if (/[\\/]\.[0-9a-f-]{36}$/.test(name) && Date.now() - found.mtimeMs > ABANDONED_MS) {
        await rm(path, { force: true });
      }
    }
    return entries;
  }

  #pathOf(key: string): string {
    const name = createHash("sha256").update(key).digest("hex");
    return join(this.#folder, name.slice(0, 2), name);
  }

  #warnOnce(error: unknown): void {
    if (this.#warned) return;
    this.#warned = true;
    const code = error instanceof Error && "code" in error ? String(error.code) : String(error);
    this.#warn(`FIELDSTOP_CACHE_DIR cannot be written to (${code}): elevation tiles are fetched without keeping them`);
  }
}

/** Off the event loop: tiles run to tens of megabytes. */
async function checksum(bytes: Uint8Array): Promise<Uint8Array> {
  return new Uint8Array(await webcrypto.subtle.digest("SHA-256", bytes as Uint8Array<ArrayBuffer>));
}
