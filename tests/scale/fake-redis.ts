import { type AddressInfo, createServer, type Server, type Socket } from "node:net";

/** What a Redis says to a command: a reply as it goes over the wire, or nothing at all. */
export type Says = (command: readonly string[], socket: Socket) => string | Buffer | undefined;

const bulk = (text: string): string => `$${Buffer.byteLength(text)}\r\n${text}\r\n`;

/** What an empty Redis says to the commands of the service. */
export const sane: Says = ([name, ...args]) => {
  switch (name) {
    case "info":
      return bulk("redis_version:7.2.0\r\nloading:0\r\n");
    case "ping":
      return "+PONG\r\n";
    case "getex":
      return "$-1\r\n";
    case "del":
      return ":0\r\n";
    // the limiter's script, with its one key
    case "eval":
      return `*3\r\n${bulk(args[2] ?? "")}:${args[3]}\r\n:60000\r\n`;
    case "client":
    case "set":
      return "+OK\r\n";
    default:
      return "-ERR unknown command\r\n";
  }
};

/** A server that speaks as Redis does, as badly as a test wants it. */
export class FakeRedis {
  /** What it says; may be changed at any time. */
  says: Says;
  /** How long it takes to answer [ms]. */
  delayMs = 0;
  /** How many connections were made. */
  connected = 0;
  readonly commands: (readonly string[])[] = [];
  readonly sockets = new Set<Socket>();
  readonly #server: Server;

  private constructor(says: Says) {
    this.says = says;
    this.#server = createServer((socket) => this.#serve(socket));
  }

  static async start(says: Says = sane): Promise<FakeRedis> {
    const fake = new FakeRedis(says);
    await new Promise<void>((resolve) => fake.#server.listen(0, "127.0.0.1", resolve));
    return fake;
  }

  get url(): string {
    return `redis://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  /** Says something that nobody asked for, on all connections. */
  sayUnasked(text: string | Buffer): void {
    for (const socket of this.sockets) if (socket.writable) socket.write(text);
  }

  async stop(): Promise<void> {
    for (const socket of this.sockets) socket.destroy();
    await new Promise((resolve) => this.#server.close(resolve));
  }

  #serve(socket: Socket): void {
    this.connected++;
    this.sockets.add(socket);
    socket.on("error", () => {}).on("close", () => this.sockets.delete(socket));
    let unread = Buffer.alloc(0);
    socket.on("data", (chunk) => {
      unread = Buffer.concat([unread, chunk]);
      for (let read = commandIn(unread); read !== undefined; read = commandIn(unread)) {
        unread = unread.subarray(read.end);
        this.#answer(read.command, socket);
      }
    });
  }

  #answer(command: readonly string[], socket: Socket): void {
    this.commands.push(command);
    const answer = (): void => {
      const text = this.says(command, socket);
      if (text !== undefined && socket.writable) socket.write(text);
    };
    if (this.delayMs > 0) setTimeout(answer, this.delayMs);
    else answer();
  }
}

/** The first command in the bytes, its name in small letters, and where it ends; undefined where it is not all there. */
function commandIn(bytes: Buffer): { readonly command: readonly string[]; readonly end: number } | undefined {
  let at = 0;
  const number = (): number | undefined => {
    const lf = bytes.indexOf("\r\n", at);
    if (lf < 0) return undefined;
    const value = Number(bytes.toString("latin1", at + 1, lf));
    at = lf + 2;
    return value;
  };
  const count = number();
  if (count === undefined) return undefined;
  const command: string[] = [];
  for (let i = 0; i < count; i++) {
    const length = number();
    if (length === undefined || bytes.length < at + length + 2) return undefined;
    command.push(bytes.toString("utf8", at, at + length));
    at += length + 2;
  }
  return { command: command.map((word, i) => (i === 0 ? word.toLowerCase() : word)), end: at };
}
