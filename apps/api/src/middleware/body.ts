import { ProblemError } from "../problems/problem";

/** What an operation takes as its body. */
export interface BodyLimits {
  readonly type: "application/json" | "multipart/form-data";
  readonly maxBytes: number;
}

/** Of every operation on JSON that does not say otherwise. */
export const MAX_JSON_BYTES = 256 * 1024;
/** Longest that a JSON body may take to arrive [ms]. */
const JSON_TIMEOUT_MS = 15_000;

/** Parameters as they are written (RFC 9110, 5.6.6); what is anything else cannot be read. */
const PARAMETERS = /^(?:;\s*[a-z\d-]+=[^;]+)*$/i;

/** RFC 8259, section 8.1: JSON is UTF-8; a charset that says otherwise cannot be meant. */
const CHARSET = /;\s*charset\s*=\s*"?([^\s";]*)/i;

const MAX_TYPE_LENGTH = 500;

const utf8 = new TextDecoder("utf-8", { fatal: true });

/**
 * Judge a body by its announced type, coding and length before anything reads it.
 * @throws ProblemError
 */
export function validateBody({ headers }: Request, body: BodyLimits): void {
  validateType(headers.get("content-type") ?? "", body.type);
  const coding = headers.get("content-encoding");
  if (coding !== null && !/^(?:identity)?$/i.test(coding)) {
    throw new ProblemError("unsupported-media-type", {
      detail: "The body has a Content-Encoding; send it as it is.",
      headers: { "Accept-Encoding": "identity" },
    });
  }
  const length = headers.get("content-length");
  if (length !== null && Number(length) > body.maxBytes) throw tooLarge(body.maxBytes);
}

function validateType(given: string, type: BodyLimits["type"]): void {
  if (given === type) return;
  const refuse = (detail: string): ProblemError =>
    new ProblemError("unsupported-media-type", { detail, headers: { "Accept-Post": type } });
  const named = given.slice(0, type.length).toLowerCase() === type;
  const parameters = given.slice(type.length);
  if (given === "") throw refuse("The request has no Content-Type.");
  if (!named || !/^\s*(?:;|$)/.test(parameters)) throw refuse(`The body's Content-Type is not ${type}.`);
  if (type !== "application/json") return;
  const charset = CHARSET.exec(parameters)?.[1]?.toLowerCase();
  if (charset !== undefined && charset !== "utf-8" && charset !== "utf8") {
    throw refuse("The body's Content-Type names another charset than UTF-8, in which JSON is always written.");
  }
  if (given.length > MAX_TYPE_LENGTH || !PARAMETERS.test(parameters.trimStart())) {
    throw refuse("The body's Content-Type is not understood.");
  }
}

/**
 * Read a JSON body, counting its bytes as they come.
 * @throws ProblemError where it is too large, too slow, cut short, or not JSON in UTF-8
 */
export async function readJson(request: Request, maxBytes: number): Promise<unknown> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_, reject) => {
    timer = setTimeout(() => reject(tooSlow()), JSON_TIMEOUT_MS);
  });
  try {
    return parseJson(await Promise.race([readBytes(request, maxBytes), late]));
  } finally {
    clearTimeout(timer);
  }
}

async function readBytes(request: Request, maxBytes: number): Promise<Uint8Array | ArrayBuffer> {
  try {
    // the platform counts a body whose length was announced
    if (request.headers.get("content-length") !== null) return await request.arrayBuffer();
    return await counted(request.body, maxBytes);
  } catch (error) {
    // the sender went away in the middle of it: nobody reads the answer, and it is no fault of ours
    throw error instanceof ProblemError ? error : malformed("The body is cut short.");
  }
}

async function counted(body: ReadableStream<Uint8Array> | null, maxBytes: number): Promise<Uint8Array> {
  const chunks: Uint8Array[] = [];
  let bytes = 0;
  const reader = body?.getReader();
  for (let next = await reader?.read(); next !== undefined && !next.done; next = await reader?.read()) {
    bytes += next.value.byteLength;
    if (bytes > maxBytes) throw tooLarge(maxBytes);
    chunks.push(next.value);
  }
  const all = new Uint8Array(bytes);
  let at = 0;
  for (const chunk of chunks) {
    all.set(chunk, at);
    at += chunk.byteLength;
  }
  return all;
}

/** Bytes that are no UTF-8 are refused: replacement characters are not what the caller wrote. */
function parseJson(bytes: Uint8Array | ArrayBuffer): unknown {
  let text: string;
  try {
    text = utf8.decode(bytes);
  } catch {
    throw malformed("The body is not encoded as UTF-8.");
  }
  try {
    return JSON.parse(text);
  } catch {
    throw malformed("The body is not a JSON document.");
  }
}

function malformed(detail: string): ProblemError {
  return new ProblemError("malformed-request", { detail });
}

function tooLarge(maxBytes: number): ProblemError {
  return new ProblemError("body-too-large", { detail: `The body is over ${maxBytes} bytes.` });
}

function tooSlow(): ProblemError {
  const detail = `The body did not arrive within ${JSON_TIMEOUT_MS / 1000} s.`;
  return new ProblemError("request-timeout", { detail, headers: { Connection: "close" } });
}
