import { type Compress, type Encoding, LEAST_BYTES_TO_COMPRESS } from "./encoding";
import { entityTag } from "./entity-tag";
import type { Matched } from "./exchange";
import type { Near } from "./near";

export interface KeptParts {
  readonly body: Uint8Array<ArrayBuffer>;
  readonly hash: string;
  /** How long it holds [s]. */
  readonly maxAgeSeconds: number;
  /** All that do not belong to one request alone, without the tag and the length. */
  readonly fields: Readonly<Record<string, string>>;
  /** What was asked for. */
  readonly matched: Matched;
  /** Where that was, about. */
  readonly near: Near | null;
}

/** The bytes of an answer in one form, with its fields. */
export interface Form {
  readonly body: Uint8Array<ArrayBuffer>;
  readonly fields: Readonly<Record<string, string>>;
  /** What 304 tells in its place (RFC 9110, 15.4.5). */
  readonly unchangedFields: Readonly<Record<string, string>>;
}

/** Which 304 leaves out, having no body. */
const OF_BODY = ["content-type", "content-length", "content-encoding"];

const OVERHEAD_BYTES = 1024;
/** Room is held for the plain form and both squeezed ones, which are smaller. */
const FORMS = 3;

/** An answer that was kept, each of its forms made once. */
export class KeptAnswer {
  readonly hash: string;
  readonly sizeBytes: number;
  readonly matched: Matched;
  readonly near: Near | null;
  readonly plain: Form;
  readonly #maxAgeSeconds: number;
  readonly #squeezed = new Map<Encoding, Form | Promise<Form>>();

  constructor(
    { body, hash, maxAgeSeconds, fields, matched, near }: KeptParts,
    readonly dataVersion: string,
    readonly keptAtMs: number,
  ) {
    this.hash = hash;
    this.matched = matched;
    this.near = near;
    this.sizeBytes = OVERHEAD_BYTES + FORMS * body.byteLength;
    this.plain = formOf(body, { ...fields, etag: entityTag(hash, "identity") });
    this.#maxAgeSeconds = maxAgeSeconds;
  }

  holdsAt(nowMs: number): boolean {
    const ageSeconds = this.ageSeconds(nowMs);
    return ageSeconds >= 0 && ageSeconds < this.#maxAgeSeconds;
  }

  ageSeconds(nowMs: number): number {
    return Math.floor((nowMs - this.keptAtMs) / 1000);
  }

  /** The form in an encoding; the plain one where nothing is gained. */
  form(encoding: Encoding, compress: Compress | undefined): Form | Promise<Form> {
    if (encoding === "identity" || compress === undefined) return this.plain;
    if (this.plain.body.byteLength < LEAST_BYTES_TO_COMPRESS) return this.plain;
    let form = this.#squeezed.get(encoding);
    if (form === undefined) {
      form = this.#squeeze(encoding, compress);
      this.#squeezed.set(encoding, form);
    }
    return form;
  }

  async #squeeze(encoding: Exclude<Encoding, "identity">, compress: Compress): Promise<Form> {
    let form = this.plain;
    try {
      const body = await compress(this.plain.body, encoding);
      if (body.byteLength < this.plain.body.byteLength) {
        const etag = entityTag(this.hash, encoding);
        form = formOf(body, { ...this.plain.fields, "content-encoding": encoding, etag });
      }
    } catch {
      // the plain form serves as well
    }
    this.#squeezed.set(encoding, form);
    return form;
  }
}

function formOf(body: Uint8Array<ArrayBuffer>, fieldsWithoutLength: Form["fields"]): Form {
  const fields = { ...fieldsWithoutLength, "content-length": String(body.byteLength) };
  const told = Object.entries(fields).filter(([name]) => !OF_BODY.includes(name));
  return { body, fields, unchangedFields: Object.fromEntries(told) };
}
