/**
 * Bytes by key, kept longer than a process lives: on disk, or where several processes share them. It never fails: what cannot be
 * read is a miss, what cannot be written is done without.
 */
export interface ByteStore {
  /** The bytes kept under a key; null where there are none. */
  get(key: string): Promise<Uint8Array | null>;
  set(key: string, bytes: Uint8Array): Promise<void>;
  delete(key: string): Promise<void>;
  /** When an entry was written [ms since 1970]; null where there is none. A store that cannot tell keeps none too long. */
  keptAtMs?(key: string): Promise<number | null>;
}
