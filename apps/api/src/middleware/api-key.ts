import type { Asked } from "./asked";

/** Who may ask. Keys are known by their hashes alone. */
export interface ApiKeys {
  /** Name of the key's holder; undefined where there is no such key. */
  holderOf(key: string): string | undefined;
}

const BEARER = /^Bearer +([\w-]{1,200})$/i;

/** The key that a request brings (RFC 6750, 2.1). */
export function keyIn(request: Asked): string | undefined {
  const field = request.headers.get("authorization");
  return field === null ? undefined : BEARER.exec(field)?.[1];
}
