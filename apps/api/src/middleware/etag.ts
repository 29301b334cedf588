import { createHash } from "node:crypto";
import type { Encoding } from "./compression";

const HASH_CHARACTERS = 22;

/** 132 bits of SHA-256: what two different answers never share. */
export function fingerprint(body: string | Uint8Array): string {
  return createHash("sha256").update(body).digest("base64url").slice(0, HASH_CHARACTERS);
}

/** A strong tag (RFC 9110, 8.8.3), one for each form of the bytes. */
export function entityTag(hash: string, encoding: Encoding): string {
  return encoding === "identity" ? `"${hash}"` : `"${hash}-${encoding}"`;
}

/** Whether `If-None-Match` names the answer in any of its forms, which hold the same (RFC 9110, 13.1.2: compared weakly). */
export function matchesAny(ifNoneMatch: string, hash: string): boolean {
  if (ifNoneMatch.trim() === "*") return true;
  return ifNoneMatch.split(",").some((entry) => {
    const tag = entry.trim().replace(/^W\//, "");
    return tag === `"${hash}"` || tag === `"${hash}-gzip"` || tag === `"${hash}-br"`;
  });
}
