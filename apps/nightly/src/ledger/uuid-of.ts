import { createHash } from "node:crypto";

/** A UUID that a name always gets (RFC 9562, version 8: of one's own making). */
export function uuidOf(name: string): string {
  const bytes = createHash("sha256").update(name).digest().subarray(0, 16);
  bytes[6] = ((bytes[6] as number) & 0x0f) | 0x80;
  bytes[8] = ((bytes[8] as number) & 0x3f) | 0x80;
  return bytes.toString("hex").replace(/^(.{8})(.{4})(.{4})(.{4})(.{12})$/, "$1-$2-$3-$4-$5");
}
