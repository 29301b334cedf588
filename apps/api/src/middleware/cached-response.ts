import type { Answer } from "./answer";
import { type Compress, chosenEncoding, type Encoding, MIN_BYTES_TO_COMPRESS } from "./compression";
import { entityTag, matchesAny } from "./etag";
import type { CoarsePlace, RequestContext } from "./request-context";

export interface CachedParts {
  readonly body: string | Uint8Array<ArrayBuffer>;
  readonly hash: string;
  readonly maxAgeSeconds: number;
  /** All that do not belong to one request alone, without the tag and the length. */
  readonly headers: Readonly<Record<string, string>>;
  /** Where it is about, roughly. */
  readonly near: CoarsePlace | null;
}

/** The bytes of an answer in one encoding, with its headers. */
interface Form {
  /** Text where it is plain: the platform writes that in one piece with the headers. */
  readonly body: string | Uint8Array<ArrayBuffer>;
  readonly bytes: number;
  readonly headers: Readonly<Record<string, string>>;
  /** What 304 says in its place (RFC 9110, 15.4.5). */
  readonly notModifiedHeaders: Readonly<Record<string, string>>;
}

/** Which 304 leaves out, having no body. */
const OF_BODY = ["content-type", "content-length", "content-encoding"];

const OVERHEAD_BYTES = 1024;
/** Room is reserved for the plain form and both compressed ones, which are smaller. */
const FORMS = 3;

/** A GET's answer, each of its forms made once. */
export class CachedResponse {
  readonly hash: string;
  readonly sizeBytes: number;
  readonly near: CoarsePlace | null;
  readonly #plain: Form;
  readonly #maxAgeSeconds: number;
  readonly #compressed = new Map<Encoding, Form | Promise<Form>>();

  constructor(
    { body, hash, maxAgeSeconds, headers, near }: CachedParts,
    readonly dataVersion: string,
    readonly storedAtMs: number,
  ) {
    this.hash = hash;
    this.near = near;
    this.#plain = formOf(body, { ...headers, etag: entityTag(hash, "identity") });
    this.sizeBytes = OVERHEAD_BYTES + FORMS * this.#plain.bytes;
    this.#maxAgeSeconds = maxAgeSeconds;
  }

  holdsAt(nowMs: number): boolean {
    const ageSeconds = this.ageSeconds(nowMs);
    return ageSeconds >= 0 && ageSeconds < this.#maxAgeSeconds;
  }

  ageSeconds(nowMs: number): number {
    return Math.floor((nowMs - this.storedAtMs) / 1000);
  }

  /** Answer with the form that the caller accepts, or 304 where the caller has it already. */
  async answerTo({ request }: RequestContext, compress: Compress | undefined): Promise<Answer> {
    const form = await this.#form(chosenEncoding(request.headers.get("accept-encoding")), compress);
    const ifNoneMatch = request.headers.get("if-none-match");
    if (ifNoneMatch !== null && matchesAny(ifNoneMatch, this.hash)) {
      return { status: 304, body: null, headers: form.notModifiedHeaders, complete: true };
    }
    return { status: 200, body: form.body, headers: form.headers, complete: true };
  }

  #form(encoding: Encoding, compress: Compress | undefined): Form | Promise<Form> {
    if (encoding === "identity" || compress === undefined) return this.#plain;
    if (this.#plain.bytes < MIN_BYTES_TO_COMPRESS) return this.#plain;
    let form = this.#compressed.get(encoding);
    if (form === undefined) {
      form = this.#compress(encoding, compress);
      this.#compressed.set(encoding, form);
    }
    return form;
  }

  async #compress(encoding: Exclude<Encoding, "identity">, compress: Compress): Promise<Form> {
    let form = this.#plain;
    try {
      const body = await compress(bytesOf(this.#plain.body), encoding);
      if (body.byteLength < this.#plain.bytes) {
        const etag = entityTag(this.hash, encoding);
        form = formOf(body, { ...this.#plain.headers, "content-encoding": encoding, etag });
      }
    } catch {
      // the plain form serves as well
    }
    this.#compressed.set(encoding, form);
    return form;
  }
}

function formOf(body: Form["body"], withoutLength: Form["headers"]): Form {
  const bytes = bytesOf(body).byteLength;
  const headers = { ...withoutLength, "content-length": String(bytes) };
  const kept = Object.entries(headers).filter(([name]) => !OF_BODY.includes(name));
  return { body, bytes, headers, notModifiedHeaders: Object.fromEntries(kept) };
}

const encoder = new TextEncoder();

function bytesOf(body: Form["body"]): Uint8Array<ArrayBuffer> {
  return typeof body === "string" ? encoder.encode(body) : body;
}
