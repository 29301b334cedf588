export type Encoding = "identity" | "gzip" | "br";

/** Squeezes bytes, off the event loop; absent where the platform squeezes answers itself. */
export type Compress = (bytes: Uint8Array, encoding: Exclude<Encoding, "identity">) => Promise<Uint8Array<ArrayBuffer>>;

/** Smaller answers fit one packet or two, and are not worth the time. */
export const LEAST_BYTES_TO_COMPRESS = 2048;

const MOST_REMEMBERED = 64;
const remembered = new Map<string, Encoding>();

/** What the caller takes and squeezes best; callers say so in few ways, so that answers to that are remembered. */
export function chosenEncoding(acceptEncoding: string | null): Encoding {
  if (acceptEncoding === null) return "identity";
  const known = remembered.get(acceptEncoding);
  if (known !== undefined) return known;
  const chosen = choose(acceptEncoding);
  if (remembered.size < MOST_REMEMBERED) remembered.set(acceptEncoding, chosen);
  return chosen;
}

// RFC 9110, 12.5.3
function choose(acceptEncoding: string): Encoding {
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
