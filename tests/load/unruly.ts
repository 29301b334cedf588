import { connect, type Socket } from "node:net";
import { setTimeout as delay } from "node:timers/promises";
import { Caller } from "./exchange";
import { told, wrongWith } from "./fuzz";
import { heavyRequests } from "./heavy-requests";
import { type DrawnRequest, draw } from "./requests";
import type { ServiceProcess } from "./service";

export interface UnrulyFigures {
  readonly seconds: number;
  /** How many requests were made in each manner. */
  readonly manners: Readonly<Record<Manner, number>>;
  readonly statuses: Readonly<Record<string, number>>;
  /** Memory of the service and of the processes that it started, once a second [MB]. */
  readonly memoryMb: readonly number[];
  readonly faults: readonly string[];
}

const MANNERS = ["whole", "whole", "whole", "whole", "hangs-up", "reads-slowly", "writes-slowly"] as const;
type Manner = (typeof MANNERS)[number];

const CALLERS = 16;
const MAX_FAULTS = 40;
/** After so many drawn requests comes a heavy one: a long stream, or photographs. */
const DRAWN_FOR_EACH_HEAVY = 20;
/** Longest that an unruly caller keeps to one request [ms]. */
const PATIENCE_MS = 4000;
/** The memory at the end is held to that of the middle, and to so much more. */
const MAX_GROWTH = 1.1;
/** Caches and threads fill before: a shorter run says nothing of memory [s]. */
const SETTLED_AFTER_S = 120;

/** Ask for everything, well and badly, by callers of whom some hang up, read slowly or write slowly; hold whole answers to the contract. */
export async function unrulyLoad(service: ServiceProcess, seconds: number, seed: number): Promise<UnrulyFigures> {
  const caller = new Caller(service.address, CALLERS);
  const manners: Record<Manner, number> = { whole: 0, "hangs-up": 0, "reads-slowly": 0, "writes-slowly": 0 };
  const statuses: Record<string, number> = {};
  const memoryMb: number[] = [];
  const faults: string[] = [];
  const heavy = await heavyRequests(60, seed);
  let heavyTurn = 0;
  const endMs = performance.now() + seconds * 1000;
  const isOver = () => performance.now() > endMs || !service.alive;
  const watch = setInterval(() => {
    const mb = service.residentMbOfAll();
    if (mb !== undefined) memoryMb.push(mb);
  }, 1000);

  const callWhole = async (request: DrawnRequest): Promise<void> => {
    const answer = await caller.ask(request.method, request.path, request.headers, request.body);
    statuses[answer.status] = (statuses[answer.status] ?? 0) + 1;
    const wrong = wrongWith(request, answer);
    if (wrong !== undefined && faults.length < MAX_FAULTS)
      faults.push(`${told(request)} -> ${answer.status}: ${wrong}`);
  };
  const run = async (index: number): Promise<void> => {
    for (let round = 0; !isOver(); round++) {
      let turn = index + round;
      for (const drawn of draw(500, seed + CALLERS * round + index)) {
        if (isOver()) break;
        const request = turn % DRAWN_FOR_EACH_HEAVY === 0 ? (heavy[heavyTurn++ % heavy.length] as DrawnRequest) : drawn;
        const manner = MANNERS[turn++ % MANNERS.length] as Manner;
        manners[manner]++;
        try {
          if (manner === "whole") await callWhole(request);
          else await callUnruly(service, request, manner);
        } catch (error) {
          if (faults.length < MAX_FAULTS) faults.push(`${manner}: ${told(request)} -> ${error}`);
        }
      }
    }
  };
  await Promise.all(Array.from({ length: CALLERS }, (_, index) => run(index)));
  clearInterval(watch);
  caller.close();
  if (!service.alive) faults.push("the process ended");
  else if (!(await service.healthy())) faults.push("the service does not answer at the end");
  const [middle, end] = [meanOf(memoryMb, 0.4, 0.6), meanOf(memoryMb, 0.8, 1)];
  if (seconds >= SETTLED_AFTER_S && end > MAX_GROWTH * middle)
    faults.push(`memory grew from ${middle.toFixed(0)} to ${end.toFixed(0)} MB`);
  return { seconds, manners, statuses, memoryMb, faults };
}

/** Mean of the readings between two shares of the time. */
export function meanOf(readings: readonly number[], from: number, to: number): number {
  const part = readings.slice(Math.floor(from * readings.length), Math.ceil(to * readings.length));
  return part.reduce((sum, value) => sum + value, 0) / part.length;
}

async function callUnruly({ address }: ServiceProcess, request: DrawnRequest, manner: Manner): Promise<void> {
  const socket = connect(address);
  // a service that will not hear more resets the connection
  socket.on("error", () => {});
  const giveUp = setTimeout(() => socket.destroy(), PATIENCE_MS);
  try {
    const bytes = bytesOf(request, `${address.host}:${address.port}`);
    if (manner === "writes-slowly") await writeSlowly(socket, bytes);
    else socket.write(bytes);
    if (manner === "hangs-up") await delay((request.path.length * 7) % 60);
    else if (manner === "reads-slowly") await readSlowly(socket);
    else if (!socket.destroyed) await new Promise((resolve) => socket.once("data", resolve).once("close", resolve));
  } finally {
    clearTimeout(giveUp);
    socket.destroy();
  }
}

function bytesOf({ method, path, headers, body }: DrawnRequest, host: string): Buffer {
  const fields = Object.entries({ ...headers, host, ...(body && { "content-length": body.length }) });
  const head = fields.map(([name, value]) => `${name}: ${value}\r\n`).join("");
  return Buffer.concat([Buffer.from(`${method} ${path} HTTP/1.1\r\n${head}\r\n`), Buffer.from(body ?? "")]);
}

async function writeSlowly(socket: Socket, bytes: Buffer): Promise<void> {
  const piece = Math.max(16, Math.ceil(bytes.length / 40));
  for (let at = 0; at < bytes.length && !socket.destroyed; at += piece) {
    socket.write(bytes.subarray(at, at + piece));
    await delay(20);
  }
}

/** Take little at a time, until the end or until patience is over. */
async function readSlowly(socket: Socket): Promise<void> {
  socket.pause();
  while (!socket.destroyed && !socket.readableEnded) {
    socket.read(512);
    await delay(30);
  }
}
