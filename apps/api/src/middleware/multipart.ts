import type { Context, MiddlewareHandler } from "hono";
import { ProblemError } from "../problems/problem";

/** What a form may hold at most. */
export interface FormLimits {
  readonly bytes: number;
  readonly parts: number;
}

const CR = 13;
const LF = 10;
const DASH = 45;
const RETRY_AFTER_SECONDS = "5";
const MOST_TEXT_BYTES = 256 * 1024;
const MOST_HEADER_BYTES = 16 * 1024;
const BLANK_LINE = new Uint8Array([CR, LF, CR, LF]);
const LINE_END = BLANK_LINE.subarray(0, 2);

interface Part {
  readonly name: string;
  /** Of a file alone. */
  readonly fileName: string | undefined;
  readonly type: string;
  readonly chunks: Uint8Array<ArrayBuffer>[];
}

/**
 * Reads the form of a route before its schema looks at it. Since a form is held in memory until it is answered, only so many are taken at once; those
 * beyond are asked to come back, before anything of them is read.
 */
export function formReader({ atOnce, ...limits }: FormLimits & { readonly atOnce: number }): MiddlewareHandler {
  let held = 0;
  return async (c, next) => {
    if (held >= atOnce) {
      const detail = "As many forms are being read as fit into memory; try again shortly.";
      throw new ProblemError("unavailable", { detail, headers: { "Retry-After": RETRY_AFTER_SECONDS } });
    }
    held++;
    try {
      await readInto(c, limits);
      // awaited, so that the place is free only after the answer
      return await next();
    } finally {
      held--;
    }
  };
}

async function readInto(c: Context, limits: FormLimits): Promise<void> {
  const body = c.req.raw.body as ReadableStream<Uint8Array<ArrayBuffer>> | null;
  if (body === null) throw notAForm();
  c.req.bodyCache.formData = await readForm(chunksOf(body), c.req.header("Content-Type") ?? "", limits);
}

/** A body that is refused half way is let go, not cancelled, so that the answer still reaches the caller. */
async function* chunksOf(body: ReadableStream<Uint8Array<ArrayBuffer>>): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  const reader = body.getReader();
  try {
    for (let next = await reader.read(); !next.done; next = await reader.read()) yield next.value;
  } finally {
    reader.releaseLock();
  }
}

/**
 * A multipart/form-data body, taken apart as it comes: a form of a few hundred megabytes read in one go would keep all other requests waiting for
 * more than a second. Source: RFC 7578 and RFC 2046, 5.1.1.
 * @throws ProblemError for a body that is no form, is cut short or holds too much
 */
export async function readForm(
  body: AsyncIterable<Uint8Array<ArrayBuffer>>,
  contentType: string,
  limits: FormLimits,
): Promise<FormData> {
  const delimiter = new TextEncoder().encode(`\r\n--${boundaryOf(contentType)}`);
  const form = new FormData();
  let state: "content" | "boundary" | "header" | "end" = "content";
  let part: Part | undefined;
  let parts = 0;
  let bytes = 0;
  // the first boundary may stand at the very start, without a line end before it
  let rest: Uint8Array<ArrayBuffer> = LINE_END.slice();

  for await (const chunk of body) {
    bytes += chunk.length;
    if (bytes > limits.bytes) throw tooLarge(`The body is over ${limits.bytes} bytes.`);
    if (state === "end") continue;
    const data = joined(rest, chunk);
    let at = 0;
    for (let enough = true; enough; ) {
      if (state === "content") {
        const found = indexOf(data, delimiter, at);
        const end = found < 0 ? Math.max(at, data.length - delimiter.length + 1) : found;
        if (end > at) part?.chunks.push(data.subarray(at, end));
        at = found < 0 ? end : found + delimiter.length;
        if (found >= 0) {
          if (part !== undefined) append(form, part);
          part = undefined;
          state = "boundary";
        } else enough = false;
      } else if (state === "boundary") {
        if (data[at] === DASH && data[at + 1] === DASH) state = "end";
        const lineEnd = state === "end" ? -1 : indexOf(data, LINE_END, at);
        if (lineEnd >= 0) {
          at = lineEnd;
          state = "header";
        } else enough = false;
      } else {
        // from the end of the boundary's line, so that a part without any header is found too
        const blank = indexOf(data, BLANK_LINE, at);
        if (blank >= 0) {
          if (++parts > limits.parts) throw tooLarge(`The form has over ${limits.parts} parts.`);
          part = partOf(new TextDecoder().decode(data.subarray(at, blank)));
          at = blank + BLANK_LINE.length;
          // an empty part has its delimiter right here, which begins with the line end just read
          if (startsAt(data, delimiter, at - LINE_END.length)) at -= LINE_END.length;
          state = "content";
        } else enough = false;
      }
    }
    rest = data.slice(at);
    if (state !== "content" && rest.length > MOST_HEADER_BYTES && state !== "end") throw notAForm();
  }
  if (state !== "end") throw notAForm();
  return form;
}

function boundaryOf(contentType: string): string {
  const [, quoted, plain] = /;\s*boundary=(?:"([^"]{1,70})"|([^\s;"]{1,70}))/i.exec(contentType) ?? [];
  const boundary = quoted ?? plain;
  if (boundary === undefined) throw notAForm();
  return boundary;
}

function partOf(header: string): Part {
  const disposition = /^content-disposition:\s*form-data\s*(;.*)$/im.exec(header)?.[1];
  const name = disposition === undefined ? undefined : parameterOf(disposition, "name");
  if (disposition === undefined || name === undefined) throw notAForm();
  const type = /^content-type:([^\r\n]*)/im.exec(header)?.[1]?.trim() ?? "";
  return { name, fileName: parameterOf(disposition, "filename"), type, chunks: [] };
}

/** A parameter, with the three escapes that browsers make. */
function parameterOf(disposition: string, name: string): string | undefined {
  const value = new RegExp(`;\\s*${name}=(?:"([^"]*)"|([^\\s;"]+))`, "i").exec(disposition);
  const text = value?.[1] ?? value?.[2];
  return text?.replace(/%0a/gi, "\n").replace(/%0d/gi, "\r").replaceAll("%22", '"');
}

function append(form: FormData, { name, fileName, type, chunks }: Part): void {
  if (fileName !== undefined) form.append(name, new File(chunks, fileName, { type }));
  else {
    const bytes = chunks.reduce((sum, chunk) => sum + chunk.length, 0);
    if (bytes > MOST_TEXT_BYTES) throw tooLarge(`A part without a file name is over ${MOST_TEXT_BYTES} bytes.`);
    const decoder = new TextDecoder();
    form.append(name, chunks.map((chunk) => decoder.decode(chunk, { stream: true })).join("") + decoder.decode());
  }
}

function joined(first: Uint8Array<ArrayBuffer>, second: Uint8Array<ArrayBuffer>): Uint8Array<ArrayBuffer> {
  const both = new Uint8Array(first.length + second.length);
  both.set(first);
  both.set(second, first.length);
  return both;
}

function indexOf(data: Uint8Array, wanted: Uint8Array, from: number): number {
  let at = data.indexOf(CR, from);
  while (at >= 0 && !startsAt(data, wanted, at)) at = data.indexOf(CR, at + 1);
  return at;
}

function startsAt(data: Uint8Array, wanted: Uint8Array, at: number): boolean {
  return at + wanted.length <= data.length && wanted.every((byte, i) => data[at + i] === byte);
}

function notAForm(): ProblemError {
  return new ProblemError("malformed-request", { detail: "The body is not a complete form." });
}

function tooLarge(detail: string): ProblemError {
  return new ProblemError("body-too-large", { detail });
}
