import { Agent, request } from "node:http";
import { connect } from "node:net";
import { brotliDecompressSync, gunzipSync, inflateSync } from "node:zlib";

export interface Answer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string>>;
  readonly text: string;
  readonly tookMs: number;
}

export interface Address {
  readonly host: string;
  readonly port: number;
}

/** Connections kept open, as many as are used at once. */
export class Caller {
  readonly #agent: Agent;
  readonly #address: Address;

  constructor(address: Address, connections: number) {
    this.#address = address;
    this.#agent = new Agent({ keepAlive: true, maxSockets: connections });
  }

  async ask(
    method: string,
    path: string,
    headers: Readonly<Record<string, string>> = {},
    body?: string | Buffer,
  ): Promise<Answer> {
    const startedAt = performance.now();
    return new Promise((resolve, reject) => {
      const length = body === undefined ? {} : { "content-length": Buffer.byteLength(body) };
      const options = { ...this.#address, method, path, headers: { ...headers, ...length }, agent: this.#agent };
      let answering = false;
      const sent = request(options, (response) => {
        answering = true;
        const chunks: Buffer[] = [];
        response.on("data", (chunk: Buffer) => chunks.push(chunk));
        response.on("error", reject);
        response.on("end", () => {
          const told = Object.fromEntries(Object.entries(response.headers).map(([key, value]) => [key, String(value)]));
          const text = plain(Buffer.concat(chunks), told["content-encoding"]);
          resolve({ status: response.statusCode ?? 0, headers: told, text, tookMs: performance.now() - startedAt });
        });
      });
      sent.setTimeout(60_000, () =>
        sent.destroy(new Error(`no answer within a minute: ${method} ${path.slice(0, 200)}`)),
      );
      sent.on("error", (error: NodeJS.ErrnoException) => {
        // the service closed a connection that had long been idle, just as it was used again: no request reached it
        if (sent.reusedSocket && error.code === "ECONNRESET" && !answering)
          resolve(this.ask(method, path, headers, body));
        else reject(error);
      });
      sent.end(body);
    });
  }

  close(): void {
    this.#agent.destroy();
  }
}

function plain(bytes: Buffer, encoding: string | undefined): string {
  if (encoding === "gzip") return gunzipSync(bytes).toString();
  if (encoding === "br") return brotliDecompressSync(bytes).toString();
  if (encoding === "deflate") return inflateSync(bytes).toString();
  return bytes.toString();
}

/** What is written to a bare socket: bytes, pauses [ms], and how it ends. */
export interface RawRequest {
  readonly writes: readonly (string | Buffer | number)[];
  /** Closes our side after the last write, as a caller who goes away does. */
  readonly cut?: boolean;
}

/**
 * Everything that comes back over a bare socket, until the service closes it, says nothing for a while after it spoke, or
 * `waitMs` is over.
 */
export async function rawExchange(
  { host, port }: Address,
  { writes, cut }: RawRequest,
  waitMs = 5000,
): Promise<Buffer> {
  const socket = connect({ host, port });
  const chunks: Buffer[] = [];
  let quiet: NodeJS.Timeout | undefined;
  const ended = new Promise<void>((resolve) => {
    const deadline = setTimeout(resolve, waitMs);
    socket.on("data", (chunk) => {
      chunks.push(chunk);
      clearTimeout(quiet);
      quiet = setTimeout(resolve, 150);
    });
    const stop = () => {
      clearTimeout(deadline);
      resolve();
    };
    // a service that will not hear more resets the connection: that is an answer too
    socket.on("error", stop);
    socket.on("close", stop);
  });
  for (const piece of writes) {
    if (socket.destroyed) break;
    if (typeof piece === "number") await new Promise((resolve) => setTimeout(resolve, piece));
    else socket.write(piece);
  }
  if (cut) socket.end();
  await ended;
  clearTimeout(quiet);
  socket.destroy();
  return Buffer.concat(chunks);
}

/** The first answer among bytes; undefined where there is no whole head. */
export function firstAnswer(bytes: Buffer): Omit<Answer, "tookMs"> | undefined {
  const end = bytes.indexOf("\r\n\r\n");
  if (end < 0) return undefined;
  const [line = "", ...lines] = bytes.subarray(0, end).toString("latin1").split("\r\n");
  const headers = Object.fromEntries(
    lines.map((header) => [
      header.slice(0, header.indexOf(":")).toLowerCase(),
      header.slice(header.indexOf(":") + 1).trim(),
    ]),
  );
  const rest = bytes.subarray(end + 4);
  const status = Number(line.split(" ")[1]);
  if (status === 100) return firstAnswer(rest);
  const body =
    headers["transfer-encoding"] === "chunked"
      ? unchunked(rest)
      : rest.subarray(0, Number(headers["content-length"] ?? 0));
  return { status, headers, text: body.toString() };
}

function unchunked(bytes: Buffer): Buffer {
  const parts: Buffer[] = [];
  for (let at = 0; at < bytes.length; ) {
    const lineEnd = bytes.indexOf("\r\n", at);
    if (lineEnd < 0) break;
    const length = Number.parseInt(bytes.subarray(at, lineEnd).toString("latin1"), 16);
    if (!(length > 0)) break;
    parts.push(bytes.subarray(lineEnd + 2, lineEnd + 2 + length));
    at = lineEnd + 2 + length + 2;
  }
  return Buffer.concat(parts);
}
