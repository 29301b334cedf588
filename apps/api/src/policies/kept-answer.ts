import { type Compress, type Encoding, LEAST_BYTES_TO_COMPRESS } from "./encoding";
import { entityTag } from "./entity-tag";
import { LIFETIMES, type Lifetime } from "./lifetime";

export interface KeptParts {
  readonly body: Uint8Array<ArrayBuffer>;
  readonly hash: string;
  readonly lifetime: Lifetime;
  /** All that do not belong to one request alone, without the tag. */
  readonly fields: Readonly<Record<string, string>>;
}

/** The bytes of an answer in one form, with its fields. */
export interface Form {
  readonly body: Uint8Array<ArrayBuffer>;
  readonly fields: Readonly<Record<string, string>>;
}

const OVERHEAD_BYTES = 1024;
/** Room is held for the plain form and both squeezed ones, which are smaller. */
const FORMS = 3;

/** An answer that was kept, each of its forms made once. */
export class KeptAnswer {
  readonly hash: string;
  readonly sizeBytes: number;
  readonly plain: Form;
  readonly #lifetime: Lifetime;
  readonly #squeezed = new Map<Encoding, Form | Promise<Form>>();

  constructor(
    { body, hash, lifetime, fields }: KeptParts,
    readonly dataVersion: string,
    readonly keptAtMs: number,
  ) {
    this.hash = hash;
    this.sizeBytes = OVERHEAD_BYTES + FORMS * body.byteLength;
    this.plain = { body, fields: { ...fields, etag: entityTag(hash, "identity") } };
    this.#lifetime = lifetime;
  }

  holdsAt(nowMs: number): boolean {
    const ageSeconds = this.ageSeconds(nowMs);
    return ageSeconds >= 0 && ageSeconds < LIFETIMES[this.#lifetime].maxAgeSeconds;
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
        const fields = { ...this.plain.fields, "content-encoding": encoding, etag: entityTag(this.hash, encoding) };
        form = { body, fields };
      }
    } catch {
      // the plain form serves as well
    }
    this.#squeezed.set(encoding, form);
    return form;
  }
}
