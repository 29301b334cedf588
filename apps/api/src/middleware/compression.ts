import type { Answer } from "./answer";
import type { RequestContext } from "./request-context";

export type Encoding = "identity" | "gzip" | "br";

/** Compresses bytes off the event loop; absent where the platform compresses answers itself. */
export type Compress = (bytes: Uint8Array, encoding: Exclude<Encoding, "identity">) => Promise<Uint8Array<ArrayBuffer>>;

/** Smaller answers fit one packet or two, and are not worth the time. */
export const MIN_BYTES_TO_COMPRESS = 2048;

const encoder = new TextEncoder();

/** Choose what the caller accepts and compresses best (RFC 9110, 12.5.3). */
export function chosenEncoding(acceptEncoding: string | null): Encoding {
  if (acceptEncoding === null) return "identity";
  const weights = new Map<string, number>();
  for (const entry of acceptEncoding.toLowerCase().split(",")) {
    const [coding = "", ...parameters] = entry.split(";").map((part) => part.trim());
    const weight = parameters.find((parameter) => parameter.startsWith("q="))?.slice(2);
    weights.set(coding, weight === undefined ? 1 : Number(weight) || 0);
  }
  const weightOf = (coding: string): number => weights.get(coding) ?? weights.get("*") ?? 0;
  const [br, gzip] = [weightOf("br"), weightOf("gzip")];
  if (br > 0 && br >= gzip) return "br";
  return gzip > 0 ? "gzip" : "identity";
}

/** Compress an answer to one caller where that is worth it. */
export async function compressed(
  { request }: RequestContext,
  answer: Answer,
  compress: Compress | undefined,
): Promise<Answer> {
  const { body, headers } = answer;
  if (compress === undefined || typeof body !== "string" || body.length < MIN_BYTES_TO_COMPRESS) return answer;
  const encoding = chosenEncoding(request.headers.get("accept-encoding"));
  if (encoding === "identity") return answer;
  try {
    const bytes = await compress(encoder.encode(body), encoding);
    return { ...answer, body: bytes, headers: { ...headers, "content-encoding": encoding } };
  } catch {
    // the plain answer serves as well
    return answer;
  }
}
