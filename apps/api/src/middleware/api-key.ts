import type { Answer } from "./answer";
import { problemAnswer } from "./error-answer";
import type { RequestContext } from "./request-context";

/** Who may ask. Keys are known by their hashes alone. */
export interface ApiKeys {
  /** Name of the key's holder; undefined where there is no such key. */
  holderOf(key: string): string | undefined;
}

const BEARER = /^Bearer {1,8}([\w-]{1,200})$/i;

/** The holder of the key that a request brings (RFC 6750, 2.1), or the refusal of one that brings none. */
export function authorize(context: RequestContext, apiKeys: ApiKeys): { holder: string } | { refusal: Answer } {
  const key = BEARER.exec(context.request.headers.get("authorization") ?? "")?.[1];
  const holder = key === undefined ? undefined : apiKeys.holderOf(key);
  if (holder !== undefined) return { holder };
  const detail = key === undefined ? "This service asks for a key." : "This key is not known here.";
  return {
    refusal: problemAnswer(context, "unauthorized", {
      detail: `${detail} Send it as Authorization: Bearer <key>.`,
      headers: { "www-authenticate": `Bearer realm="fieldstop"` },
    }),
  };
}
