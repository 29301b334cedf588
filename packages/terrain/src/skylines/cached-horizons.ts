import { crc32 } from "node:zlib";
import type { ByteStore } from "../byte-store";
import { REMOTE_AGE_MS } from "../remote/remote-age";
import type { TerrainHorizon } from "../terrain";
import { isTerrainHorizon } from "./horizon-shape";

/** How long an answer counts that lacks tiles which a remote did not have: it may have them one day [ms]. */
const ABSENT_FOR_MS = 7 * 24 * 3_600_000;
/** Hexadecimal digits of the checksum that an entry begins with. */
const CHECKSUM_DIGITS = 8;

/** A finished answer, and when it was found. */
interface Record {
  readonly key: string;
  readonly keptAtMs: number;
  readonly answer: TerrainHorizon;
}

/**
 * Finished skylines in a store of bytes, each with a checksum. Whatever the store does to one: what is damaged, or is no skyline, counts
 * as none.
 */
export class CachedHorizons {
  readonly #store: ByteStore;
  readonly #tiles: { readonly asked: boolean; readonly isRemote: boolean };

  /**
   * @param tiles whether some are asked for by name, so that those which are absent now may be there later; whether some come from
   *   remotes, so that they may change without a sign
   */
  constructor(store: ByteStore, tiles: { readonly asked: boolean; readonly isRemote: boolean }) {
    this.#store = store;
    this.#tiles = tiles;
  }

  async get(key: string): Promise<TerrainHorizon | null> {
    const bytes = await this.#store.get(storeKey(key));
    if (bytes === null) return null;
    const record = recordIn(bytes);
    if (record?.key === key && !this.#isStale(record)) return record.answer;
    await this.#store.delete(storeKey(key));
    return null;
  }

  async set(key: string, answer: TerrainHorizon): Promise<void> {
    const record: Record = { key, keptAtMs: Date.now(), answer };
    const text = Buffer.from(JSON.stringify(record));
    await this.#store.set(storeKey(key), Buffer.concat([Buffer.from(checksum(text)), text]));
  }

  #isStale({ keptAtMs, answer }: Record): boolean {
    const { asked, isRemote } = this.#tiles;
    const ageMs = Date.now() - keptAtMs;
    if (isRemote && ageMs > REMOTE_AGE_MS) return true;
    return asked && answer.missingTiles.some(({ reason }) => reason === "absent") && ageMs > ABSENT_FOR_MS;
  }
}

const storeKey = (key: string): string => `horizon ${key}`;

const checksum = (bytes: Uint8Array): string => crc32(bytes).toString(16).padStart(CHECKSUM_DIGITS, "0");

function recordIn(bytes: Uint8Array): Record | null {
  const text = bytes.subarray(CHECKSUM_DIGITS);
  if (Buffer.from(bytes.subarray(0, CHECKSUM_DIGITS)).toString("latin1") !== checksum(text)) return null;
  try {
    const { key, keptAtMs, answer } = (JSON.parse(Buffer.from(text).toString("utf8")) ?? {}) as Partial<Record>;
    return key !== undefined && Number.isFinite(keptAtMs) && isTerrainHorizon(answer)
      ? { key, keptAtMs: keptAtMs as number, answer }
      : null;
  } catch {
    return null;
  }
}
