import { RemoteError } from "./remote-error";

/** Bytes of a file. */
export interface ByteRange {
  readonly offset: number;
  readonly length: number;
}

export interface Received {
  readonly bytes: Uint8Array;
  /** What tells this version of the file from another, where the remote says. */
  readonly version: string;
}

export interface ReceiveOptions {
  /** Only this part of the file. */
  readonly range?: ByteRange | undefined;
  /** Most that the answer may come to, unpacked [B]. */
  readonly mostBytes: number;
  readonly signal: AbortSignal;
}

// RFC 9110, 15.3.7: the answer to a range request
const PARTIAL = 206;
const NOT_THERE: ReadonlySet<number> = new Set([404, 410]);
// RFC 9110, 15.4: those that name another address in Location
const REDIRECTS: ReadonlySet<number> = new Set([301, 302, 303, 307, 308]);
const MOST_REDIRECTS = 3;

/**
 * Ask a remote once for a file, or a part of it; null where it has none of that name.
 * @throws RemoteError where it refuses, answers something else, or answers too much
 */
export async function receive(url: string, options: ReceiveOptions): Promise<Received | null> {
  const { range, mostBytes } = options;
  const response = await follow(url, options);
  if (!response.ok || response.status === 204) {
    await response.body?.cancel();
    if (NOT_THERE.has(response.status)) return null;
    const transient = response.status === 429 || response.status >= 500;
    const retryAfterMs = 1000 * (Number(response.headers.get("retry-after")) || 0);
    throw new RemoteError(`the remote answered ${response.status}`, { transient, retryAfterMs });
  }
  const type = response.headers.get("content-type") ?? "";
  if (/^(text\/html|application\/xhtml|application\/json|application\/xml|text\/xml)/i.test(type)) {
    await response.body?.cancel();
    throw new RemoteError(`the remote answered ${type.split(";")[0]} in place of a tile`, { transient: false });
  }
  if (range !== undefined && response.status !== PARTIAL) {
    await response.body?.cancel();
    throw new RemoteError("the remote does not serve parts of files (HTTP ranges)", { transient: false });
  }
  const bytes = await bytesOf(response, mostBytes);
  if (range !== undefined) requireWhole(bytes, range, response.headers.get("content-range"));
  const version = response.headers.get("etag") ?? response.headers.get("last-modified") ?? "";
  return { bytes, version };
}

/** Follow redirects within the host only, so that a remote cannot point the service at an internal address. */
async function follow(url: string, { range, signal }: ReceiveOptions): Promise<Response> {
  const headers = new Headers();
  if (range !== undefined) headers.set("Range", `bytes=${range.offset}-${range.offset + range.length - 1}`);
  let from = new URL(url);
  for (let redirects = 0; ; redirects++) {
    const response = await fetch(from, { headers, signal, redirect: "manual" });
    if (!REDIRECTS.has(response.status)) return response;
    await response.body?.cancel();
    if (redirects === MOST_REDIRECTS) throw refused(`more than ${MOST_REDIRECTS} times`);
    const location = response.headers.get("location") ?? "";
    if (!URL.canParse(location, from)) throw refused("to no address");
    const to = new URL(location, from);
    // the port counts: behind another one is another service
    if (to.host !== from.host) throw refused("to another host");
    if (to.protocol !== from.protocol && to.protocol !== "https:") throw refused("away from HTTPS");
    from = to;
  }
}

const refused = (where: string) => new RemoteError(`the remote redirected ${where}`, { transient: false });

/** The body, unpacked as it comes, so that no more than the bound and a piece is ever held. */
async function bytesOf(response: Response, mostBytes: number): Promise<Uint8Array> {
  const pieces: Uint8Array[] = [];
  let length = 0;
  const reader = response.body?.getReader();
  for (let read = await reader?.read(); read?.value !== undefined; read = await reader?.read()) {
    length += read.value.length;
    if (length > mostBytes) {
      await reader?.cancel();
      throw new RemoteError(`the remote sent more than the ${mostBytes} bytes that this can be`, { transient: false });
    }
    pieces.push(read.value);
  }
  const bytes = new Uint8Array(length);
  let at = 0;
  for (const piece of pieces) {
    bytes.set(piece, at);
    at += piece.length;
  }
  return bytes;
}

/** RFC 9110, 14.4: Content-Range; a part is shorter than asked for only where the file ends. */
function requireWhole(bytes: Uint8Array, { offset, length }: ByteRange, contentRange: string | null): void {
  const [, from, to, total] = /^bytes (\d+)-(\d+)\/(\d+|\*)$/.exec(contentRange ?? "") ?? [];
  const last =
    total === undefined || total === "*" ? offset + length - 1 : Math.min(offset + length, Number(total)) - 1;
  if (Number(from) === offset && Number(to) === last && bytes.length === last - offset + 1) return;
  throw new RemoteError("the remote answered another part of the file than was asked for", { transient: true });
}
