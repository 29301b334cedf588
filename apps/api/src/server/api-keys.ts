import { createHash, randomBytes, timingSafeEqual } from "node:crypto";
import { readFileSync, watchFile } from "node:fs";
import type { Logger } from "pino";
import type { ApiKeys } from "../middleware/api-key";
import { ConfigError } from "./config";

// a key is `fs_<name>_<secret>`: the name finds the line, the secret is 256 random bits, so that a plain hash is enough
const KEY = /^fs_([a-z0-9-]{1,40})_([\w-]{43})$/;
const LINE = /^([a-z0-9-]{1,40})\s+sha256:([0-9a-f]{64})$/;
const LOOKED_AT_EACH_MS = 5000;
const NOBODY = Buffer.alloc(32);

/** A new key for a holder, and the line for the file; the key itself is kept nowhere. */
export function newApiKey(name: string): { readonly key: string; readonly line: string } {
  if (!/^[a-z0-9-]{1,40}$/.test(name))
    throw new Error("The name must be 1 to 40 lower-case letters, digits and hyphens.");
  const key = `fs_${name}_${randomBytes(32).toString("base64url")}`;
  return { key, line: `${name} sha256:${hashOf(key).toString("hex")}` };
}

/**
 * The keys of a file: a line for each, empty lines and those that begin with # left out. A name may have several lines, so that a key can be replaced
 * in peace. The file is read again when it changes; one that cannot be read then changes nothing.
 * @throws ConfigError where it cannot be read at the start
 */
export function apiKeysFromFile(file: string, log: Logger): ApiKeys {
  let hashes = readOrRefuse(file);
  watchFile(file, { interval: LOOKED_AT_EACH_MS, persistent: false }, () => {
    try {
      hashes = read(file);
      log.info({ keys: hashes.size }, "API keys read again");
    } catch (error) {
      log.error({ reason: (error as Error).message }, "API keys left as they were");
    }
  });
  return {
    holderOf: (key) => {
      const name = KEY.exec(key)?.[1] ?? "";
      const given = hashOf(key);
      // as long for a name that nobody has
      const matches = (hashes.get(name) ?? [NOBODY]).filter((hash) => timingSafeEqual(hash, given));
      return matches.length > 0 ? name : undefined;
    },
  };
}

function readOrRefuse(file: string): ReadonlyMap<string, readonly Buffer[]> {
  try {
    return read(file);
  } catch (error) {
    throw new ConfigError(
      `FIELDSTOP_API_KEYS is ${JSON.stringify(file)}, which cannot be used: ${(error as Error).message}.`,
    );
  }
}

function read(file: string): ReadonlyMap<string, readonly Buffer[]> {
  const hashes = new Map<string, Buffer[]>();
  for (const [index, line] of readFileSync(file, "utf8").split(/\r?\n/).entries()) {
    if (line.trim() === "" || line.startsWith("#")) continue;
    const [, name, hash] = LINE.exec(line.trim()) ?? [];
    if (name === undefined || hash === undefined) throw new Error(`line ${index + 1} is not "name sha256:hash"`);
    hashes.set(name, [...(hashes.get(name) ?? []), Buffer.from(hash, "hex")]);
  }
  return hashes;
}

function hashOf(key: string): Buffer {
  return createHash("sha256").update(key).digest();
}
