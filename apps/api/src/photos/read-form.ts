import {
  MaxPartsExceededError,
  MultipartParseError,
  MultipartParser,
  type MultipartPart,
} from "@remix-run/multipart-parser";
import { ProblemError } from "../problems/problem";
import { watchPace } from "./upload-pace";
import { type UploadedFile, uploadedFile } from "./uploaded-file";

/** What a form may hold at most. */
export interface FormLimits {
  readonly bytes: number;
  readonly parts: number;
  /** Called with the size of what came, before it is held; may throw. */
  readonly take?: (bytes: number) => void;
}

export type FormValue = string | UploadedFile;
/** The parts of a form by their names; without a prototype, since the names are the caller's. */
export type Form = Record<string, FormValue | FormValue[]>;

const MAX_TEXT_BYTES = 256 * 1024;
const MAX_HEADER_BYTES = 16 * 1024;
/** Small pieces are put together, since each piece that the parser keeps costs some 100 bytes more. */
const BLOCK_BYTES = 64 * 1024;

/**
 * Read a multipart/form-data body as it comes. Source: RFC 7578. Text before the first boundary is refused.
 * @throws ProblemError for a body that is no form, is cut short, holds too much or comes too slowly; the signal's reason once it is aborted
 */
export async function readForm(
  body: ReadableStream<Uint8Array> | null,
  contentType: string,
  limits: FormLimits,
  signal?: AbortSignal,
): Promise<Form> {
  if (body === null) throw notAForm();
  const parser = new MultipartParser(boundaryOf(contentType), {
    maxHeaderSize: MAX_HEADER_BYTES,
    maxParts: limits.parts,
    // counted as it comes, in chunksOf
    maxFileSize: limits.bytes,
    maxTotalSize: limits.bytes,
  });
  const form: Form = Object.create(null);
  for await (const block of inBlocks(chunksOf(body, limits, signal))) {
    // what follows the last boundary is passed over
    if (!isComplete(parser)) addParts(form, parser, block, limits);
  }
  if (!isComplete(parser)) throw notAForm();
  return form;
}

/** A body that is refused half way is released, not cancelled, so that the answer still reaches the caller. */
async function* chunksOf(
  body: ReadableStream<Uint8Array>,
  limits: FormLimits,
  signal: AbortSignal | undefined,
): AsyncGenerator<Uint8Array> {
  signal?.throwIfAborted();
  const reader = body.getReader();
  let why: unknown;
  // ends the read that waits
  const stop = (reason: unknown): void => {
    why = reason;
    reader.releaseLock();
  };
  const abort = (): void => stop(signal?.reason);
  const pace = watchPace(stop);
  signal?.addEventListener("abort", abort, { once: true });
  let bytes = 0;
  try {
    for (let next = await reader.read(); !next.done; next = await reader.read()) {
      const { length } = next.value;
      bytes += length;
      if (bytes > limits.bytes) throw tooLarge(`The body is over ${limits.bytes} bytes.`);
      pace.add(length);
      limits.take?.(length);
      yield next.value;
    }
  } catch (error) {
    throw why ?? error;
  } finally {
    pace.end();
    signal?.removeEventListener("abort", abort);
    reader.releaseLock();
  }
}

async function* inBlocks(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<Uint8Array> {
  let block = new Uint8Array(BLOCK_BYTES);
  let filled = 0;
  for await (const chunk of chunks) {
    for (let at = 0; at < chunk.length; ) {
      const piece = chunk.subarray(at, at + BLOCK_BYTES - filled);
      block.set(piece, filled);
      filled += piece.length;
      at += piece.length;
      if (filled < BLOCK_BYTES) continue;
      yield block;
      block = new Uint8Array(BLOCK_BYTES);
      filled = 0;
    }
  }
  if (filled > 0) yield block.subarray(0, filled);
}

function isComplete(parser: MultipartParser): boolean {
  try {
    parser.finish();
    return true;
  } catch {
    return false;
  }
}

function boundaryOf(contentType: string): string {
  const [, quoted, plain] = /;\s*boundary=(?:"([^"]{1,70})"|([^\s;"]{1,70}))/i.exec(contentType) ?? [];
  const boundary = quoted ?? plain;
  if (boundary === undefined) throw notAForm();
  return boundary;
}

function addParts(form: Form, parser: MultipartParser, block: Uint8Array, { parts }: FormLimits): void {
  try {
    for (const part of parser.write(block)) add(form, part);
  } catch (error) {
    if (error instanceof MaxPartsExceededError) throw tooLarge(`The form has over ${parts} parts.`);
    // a header that is not UTF-8 is a TypeError of the decoder
    throw error instanceof MultipartParseError || error instanceof TypeError ? notAForm() : error;
  }
}

/** `filename*` in another charset than these is not decoded (RFC 7578, 4.2, has no `filename*` at all). */
const OTHER_CHARSET = /filename\*\s*=(?!\s*"?(utf-8|iso-8859-1)')/i;

const QUOTES = /(?<!\\)"/g;

function add(form: Form, part: MultipartPart): void {
  const disposition = part.headers["content-disposition"] ?? "";
  if (!/^form-data\s*;/i.test(disposition) || OTHER_CHARSET.test(disposition)) throw notAForm();
  // the parser takes U+2028 and U+2029 for the end of a header
  if ((disposition.match(QUOTES)?.length ?? 0) % 2 === 1) {
    const detail = "The name of a part is not closed, or has a line separator in it.";
    throw new ProblemError("malformed-request", { detail });
  }
  const name = part.name;
  if (name === undefined) throw notAForm();
  const key = unescaped(name);
  const value = partValue(part);
  const before = form[key];
  form[key] = before === undefined ? value : [before, value].flat();
}

function partValue(part: MultipartPart): FormValue {
  const fileName = part.filename;
  if (fileName !== undefined) {
    return uploadedFile(unescaped(fileName), part.mediaType ?? "", part.content as Uint8Array<ArrayBuffer>[]);
  }
  if (part.size > MAX_TEXT_BYTES) throw tooLarge(`A part without a file name is over ${MAX_TEXT_BYTES} bytes.`);
  return new TextDecoder().decode(part.bytes);
}

/** The three escapes that browsers make in names. */
function unescaped(name: string): string {
  return name.replace(/%0a/gi, "\n").replace(/%0d/gi, "\r").replaceAll("%22", '"');
}

function notAForm(): ProblemError {
  return new ProblemError("malformed-request", { detail: "The body is not a complete form." });
}

function tooLarge(detail: string): ProblemError {
  return new ProblemError("body-too-large", { detail });
}
