import { connect, type Socket } from "node:net";
import { createHistogram, type RecordableHistogram } from "node:perf_hooks";
import { setTimeout as delay } from "node:timers/promises";
import type { Address } from "./exchange";

/** One request as it is written to the socket. */
export interface Shot {
  readonly name: string;
  readonly bytes: Buffer;
}

export interface Reply {
  readonly shot: Shot;
  readonly status: number;
  /** Status line and fields, as they came. */
  readonly head: string;
  readonly body: Buffer;
  /** From when it was due [ms]: what the generator was late by is in it. */
  readonly tookMs: number;
}

/** What became of the requests that fell due in one span of time. */
export interface Tally {
  readonly seconds: number;
  readonly asked: number;
  /** Callers whose patience ended, or whose connection did. */
  readonly gaveUp: number;
  /** How late the generator was to send what was due [µs]. */
  readonly late: RecordableHistogram;
}

export interface CrowdSettings {
  readonly address: Address;
  readonly shots: readonly Shot[];
  readonly onReply: (reply: Reply) => void;
  /** Connections at most; who comes beyond waits for one. */
  readonly mostConnections?: number;
  /** Longest that a caller waits, from when the request was due [ms]. */
  readonly patienceMs?: number;
}

const MOST_CONNECTIONS = 12_000;
const PATIENCE_MS = 5000;
/** Longest that the generator sleeps before it looks for answers again [ms]. */
const LONGEST_NAP_MS = 0.25;
/** What it sleeps by; nobody wakes it. */
const ASLEEP = new Int32Array(new SharedArrayBuffer(Int32Array.BYTES_PER_ELEMENT));
const HEAD_END = "\r\n\r\n";
/** What all connections read into: a room of its own for each reading would have the generator collect garbage all the time. */
const ROOM = Buffer.alloc(65_536);

/**
 * Callers with a connection each, on which one request is under way at a time, over bare sockets: a generator that costs little beside what it
 * measures. Connections are taken in turn, as they would be of a crowd, and more are opened as they are needed.
 */
export class Crowd {
  readonly #settings: CrowdSettings;
  readonly #idle: Connection[] = [];
  readonly #all = new Set<Connection>();
  /** Requests that wait for a connection. */
  readonly #waiting: { readonly shot: Shot; readonly dueMs: number }[] = [];
  #late: RecordableHistogram = createHistogram();
  #asked = 0;
  #gaveUp = 0;
  #underWay = 0;
  #turn = 0;
  #whenIdle: (() => void) | undefined;
  #onFree: (() => void) | undefined;

  constructor(settings: CrowdSettings) {
    this.#settings = settings;
  }

  get connections(): number {
    return this.#all.size;
  }

  /** Opens connections until there are so many, and asks once on each: one that the system took may not have been let in by the service yet. */
  async gather(connections: number): Promise<Tally> {
    const startMs = this.#begin();
    while (this.#all.size < connections) {
      const opening = Array.from({ length: Math.min(50, connections - this.#all.size) }, () => this.#open());
      await Promise.all(opening.map((connection) => connection?.opened));
      for (const connection of opening) {
        if (connection === undefined) continue;
        this.#underWay++;
        this.#sendOn(connection, this.#next(), performance.now());
      }
      while (this.#underWay > 0) await delay(1);
    }
    return this.#tally(startMs, performance.now());
  }

  /** So many callers who each ask again as soon as they are answered. */
  async closedLoop(callers: number, seconds: number): Promise<Tally> {
    const startMs = this.#begin();
    const endMs = startMs + 1000 * seconds;
    this.#onFree = () => {
      const nowMs = performance.now();
      if (nowMs < endMs) this.#send(this.#next(), nowMs);
    };
    for (let i = 0; i < callers; i++) this.#send(this.#next(), performance.now());
    await this.#quiet(endMs);
    this.#onFree = undefined;
    return this.#tally(startMs, endMs);
  }

  /** Callers who come at random, so many a second on average, whether others are answered or not. */
  async openLoop(perSecond: number, seconds: number, random: () => number): Promise<Tally> {
    const startMs = this.#begin();
    const endMs = startMs + 1000 * seconds;
    let dueMs = startMs;
    await new Promise<void>((resolve) => {
      const send = (): void => {
        const nowMs = performance.now();
        for (; dueMs <= nowMs && dueMs < endMs; dueMs -= (1000 * Math.log(1 - random())) / perSecond) {
          this.#send(this.#next(), dueMs);
        }
        if (dueMs >= endMs) {
          resolve();
          return;
        }
        napUntil(dueMs);
        setImmediate(send);
      };
      send();
    });
    await this.#quiet(endMs);
    return this.#tally(startMs, endMs);
  }

  close(): void {
    for (const connection of this.#all) connection.close();
  }

  #begin(): number {
    this.#late = createHistogram();
    this.#asked = 0;
    this.#gaveUp = 0;
    return performance.now();
  }

  #tally(startMs: number, endMs: number): Tally {
    const seconds = (endMs - startMs) / 1000;
    return { seconds, asked: this.#asked, gaveUp: this.#gaveUp, late: this.#late };
  }

  #next(): Shot {
    const { shots } = this.#settings;
    return shots[this.#turn++ % shots.length] as Shot;
  }

  /** When the time is over and every caller has an answer, or has given up. */
  async #quiet(endMs: number): Promise<void> {
    const { patienceMs = PATIENCE_MS } = this.#settings;
    const watch = setInterval(() => {
      const tooOldMs = performance.now() - patienceMs;
      for (const connection of this.#all) if (connection.askedMs < tooOldMs) connection.close();
      while ((this.#waiting[0]?.dueMs ?? tooOldMs) < tooOldMs) {
        this.#waiting.shift();
        this.#gaveUp++;
        this.#underWay--;
      }
      this.#settleIfIdle(endMs);
    }, 50);
    await new Promise<void>((resolve) => {
      this.#whenIdle = resolve;
    });
    clearInterval(watch);
  }

  #settleIfIdle(endMs: number): void {
    if (this.#underWay === 0 && performance.now() >= endMs) this.#whenIdle?.();
  }

  #send(shot: Shot, dueMs: number): void {
    this.#asked++;
    this.#underWay++;
    const connection = this.#idleConnection() ?? this.#open();
    if (connection === undefined) {
      this.#waiting.push({ shot, dueMs });
      return;
    }
    this.#sendOn(connection, shot, dueMs);
  }

  #sendOn(connection: Connection, shot: Shot, dueMs: number): void {
    this.#late.record(Math.max(1, Math.round(1000 * (performance.now() - dueMs))));
    connection.ask(shot, dueMs);
  }

  /** The one that has been idle for longest. */
  #idleConnection(): Connection | undefined {
    for (;;) {
      const connection = this.#idle.shift();
      if (connection === undefined || !connection.isClosed) return connection;
    }
  }

  #open(): Connection | undefined {
    const { address, onReply, mostConnections = MOST_CONNECTIONS } = this.#settings;
    if (this.#all.size >= mostConnections) return undefined;
    const connection = new Connection(address, {
      replied: (reply) => {
        this.#underWay--;
        onReply(reply);
        const next = this.#waiting.shift();
        if (next !== undefined) this.#sendOn(connection, next.shot, next.dueMs);
        else this.#idle.push(connection);
        this.#onFree?.();
      },
      closed: () => {
        this.#all.delete(connection);
        const { shot, dueMs, wasClosedIdle } = connection;
        if (shot === undefined) return;
        this.#underWay--;
        this.#asked--;
        // the service closed a connection that had long been idle, just as it was used again
        if (wasClosedIdle) this.#send(shot, dueMs);
        else {
          this.#asked++;
          this.#gaveUp++;
        }
      },
    });
    this.#all.add(connection);
    return connection;
  }
}

/** Sleeps until the next request is due, or not much longer: timers end one to two milliseconds late, and what fell due meanwhile would go out in one bunch. */
function napUntil(dueMs: number): void {
  const leftMs = dueMs - performance.now();
  if (leftMs > 0) Atomics.wait(ASLEEP, 0, 0, Math.min(leftMs, LONGEST_NAP_MS));
}

interface ConnectionEvents {
  readonly replied: (reply: Reply) => void;
  readonly closed: () => void;
}

class Connection {
  readonly #socket: Socket;
  readonly #events: ConnectionEvents;
  /** Settles when it is open, or cannot be opened. */
  readonly opened: Promise<void>;
  #received: Buffer | undefined;
  #replies = 0;
  #givenUp = false;
  /** The request under way. */
  shot: Shot | undefined;
  dueMs = 0;
  /** When it was sent; infinite where there is none. */
  askedMs = Number.POSITIVE_INFINITY;

  constructor(address: Address, events: ConnectionEvents) {
    this.#events = events;
    const onread = {
      buffer: ROOM,
      callback: (bytes: number): boolean => {
        this.#take(ROOM.subarray(0, bytes));
        return true;
      },
    };
    this.#socket = connect({ ...address, noDelay: true, onread });
    this.opened = new Promise((resolve) => this.#socket.once("connect", resolve).once("close", () => resolve()));
    this.#socket.on("error", () => {});
    this.#socket.on("close", () => events.closed());
  }

  ask(shot: Shot, dueMs: number): void {
    this.shot = shot;
    this.dueMs = dueMs;
    this.askedMs = performance.now();
    this.#socket.write(shot.bytes);
  }

  get isClosed(): boolean {
    return this.#socket.destroyed || !this.#socket.writable;
  }

  get wasClosedIdle(): boolean {
    return this.#replies > 0 && this.#received === undefined && !this.#givenUp;
  }

  close(): void {
    this.#givenUp = true;
    this.#socket.destroy();
  }

  #take(chunk: Buffer): void {
    const bytes = this.#received === undefined ? chunk : Buffer.concat([this.#received, chunk]);
    const headEnd = bytes.indexOf(HEAD_END);
    const head = headEnd < 0 ? "" : bytes.toString("latin1", 0, headEnd);
    const bodyStart = headEnd + HEAD_END.length;
    // every answer to these requests has its length
    const length = Number(/\r\ncontent-length: (\d+)/i.exec(head)?.[1]);
    if (headEnd < 0 || bytes.length < bodyStart + length) {
      // the room is read into again
      this.#received = bytes === chunk ? Buffer.from(chunk) : bytes;
      return;
    }
    const { shot } = this;
    if (shot === undefined || Number.isNaN(length)) {
      this.close();
      return;
    }
    const tookMs = performance.now() - this.dueMs;
    this.#received = undefined;
    this.#replies++;
    this.shot = undefined;
    this.askedMs = Number.POSITIVE_INFINITY;
    const body = bytes.subarray(bodyStart, bodyStart + length);
    this.#events.replied({ shot, status: Number(head.slice(9, 12)), head, body, tookMs });
  }
}
