import { setTimeout as delay } from "node:timers/promises";
import { breachOf, differsFromProblem } from "./contract";
import { type Answer, Caller, firstAnswer, rawExchange } from "./exchange";
import { HOSTILE } from "./hostile";
import { type DrawnRequest, draw } from "./requests";
import type { ServiceProcess } from "./service";

export interface FuzzFigures {
  readonly requests: number;
  readonly hostile: number;
  /** How many answers there were of each status. */
  readonly statuses: Readonly<Record<string, number>>;
  /** Answers of 503 with Retry-After: shed, not failed. */
  readonly shed: number;
  readonly perSecond: number;
  readonly slowestMs: number;
  readonly slowest: string;
  /** Growth of the process over the second half of the run [MB a 10,000 requests]; undefined where the system does not tell. */
  readonly growthMb: number | undefined;
  readonly residentMb: number | undefined;
  /** Memory of the process at the end of each quarter of the run [MB]. */
  readonly quartersMb: readonly number[];
  readonly faults: readonly string[];
}

interface FuzzOptions {
  readonly requests: number;
  readonly seed: number;
  readonly connections?: number;
  readonly progress?: (done: number) => void;
}

/** How often a request is asked that the service sheds. */
const MOST_TRIES = 8;
/** Faults told at most: the first few say it all. */
const MOST_FAULTS = 40;

/** Asks a service whatever the contract allows and much that it does not, and holds every answer to the contract. */
export async function fuzz(service: ServiceProcess, options: FuzzOptions): Promise<FuzzFigures> {
  const { requests, seed, connections = 8, progress } = options;
  const caller = new Caller(service.address, connections);
  const statuses: Record<string, number> = {};
  const faults: string[] = [];
  const memory: { at: number; mb: number }[] = [];
  let shed = 0;
  let done = 0;
  let slowestMs = 0;
  let slowest = "";
  const fault = (text: string): void => {
    if (faults.length < MOST_FAULTS) faults.push(text);
  };
  const count = (status: number): void => {
    statuses[status] = (statuses[status] ?? 0) + 1;
  };

  const startedAt = performance.now();
  const drawn = draw(requests, seed);
  const turn = async (): Promise<void> => {
    for (let next = drawn.next(); !next.done; next = drawn.next()) {
      const request = next.value;
      try {
        let answer = await caller.ask(request.method, request.path, request.headers, request.body);
        count(answer.status);
        // shed, since the machine is busy: asked again, as the answer is what is to be judged
        for (let tries = 1; tries < MOST_TRIES && answer.status === 503 && "retry-after" in answer.headers; tries++) {
          shed++;
          await delay(250);
          answer = await caller.ask(request.method, request.path, request.headers, request.body);
          count(answer.status);
        }
        if (answer.tookMs > slowestMs) {
          slowestMs = answer.tookMs;
          slowest = told(request);
        }
        const wrong = wrongWith(request, answer);
        if (wrong !== undefined) fault(`${told(request)} -> ${answer.status}: ${wrong}`);
      } catch (error) {
        fault(`${told(request)} -> ${error instanceof Error ? error.message : error}`);
        if (!service.alive) return;
      }
      if (++done % 500 === 0) {
        const mb = service.residentMb();
        if (mb !== undefined) memory.push({ at: done, mb });
        progress?.(done);
      }
    }
  };
  await Promise.all(Array.from({ length: connections }, turn));
  const seconds = (performance.now() - startedAt) / 1000;
  caller.close();

  const waiting = HOSTILE.values();
  const hostileTurn = async (): Promise<void> => {
    for (const request of waiting) {
      const answer = firstAnswer(await rawExchange(service.address, request));
      if (answer !== undefined) count(answer.status);
      const wrong = wrongWithRaw(answer);
      if (wrong !== undefined) fault(`${request.name} -> ${answer?.status}: ${wrong}`);
      if (!service.alive) return fault(`the process ended at or just before: ${request.name}`);
    }
  };
  await Promise.all(Array.from({ length: connections }, hostileTurn));
  if (!(await service.healthy())) fault("the service does not answer at the end");
  return {
    requests: done,
    hostile: HOSTILE.length,
    statuses,
    shed,
    perSecond: done / seconds,
    slowestMs,
    slowest,
    growthMb: slope(memory.slice(Math.floor(memory.length / 2))),
    residentMb: service.residentMb(),
    quartersMb: [1, 2, 3, 4].flatMap((quarter) => memory[Math.floor((quarter * memory.length) / 4) - 1]?.mb ?? []),
    faults,
  };
}

export function told({ method, path, headers, body }: DrawnRequest): string {
  const more = Object.entries(headers).map(([key, value]) => `${key}: ${value.slice(0, 60)}`);
  return `${method} ${path.slice(0, 300)} [${more.join("; ")}] ${body?.toString().slice(0, 600) ?? ""}`;
}

export function wrongWith({ operation, path, body }: DrawnRequest, answer: Answer): string | undefined {
  const { status, headers, text } = answer;
  if (status >= 500 && status !== 503) return text.slice(0, 300);
  if (status === 503 && !("retry-after" in headers)) return "503 without Retry-After";
  // a parser refused the head before the service saw it
  if (status === 431 || (status === 400 && text === "")) return undefined;
  if (status === 304) return text === "" ? undefined : "304 with a body";
  return breachOf(operation, status, headers["content-type"] ?? "", text) ?? strange(text, `${path} ${body}`);
}

/** Marks of a value that leaked, unless the caller sent them. */
function strange(text: string, sent: string): string | undefined {
  const found = /\bNaN\b|\[object \w+\]|node_modules|\bat \w+ \(/.exec(text);
  if (found === null || sent.includes(found[0])) return undefined;
  return `${found[0]} in ${text.slice(Math.max(0, found.index - 100), found.index + 100)}`;
}

function wrongWithRaw(answer: ReturnType<typeof firstAnswer>): string | undefined {
  // to say nothing and hang up is an answer to nonsense
  if (answer === undefined) return undefined;
  const { status, headers, text } = answer;
  if (status >= 500 && status !== 503 && status !== 505 && status !== 501) return text.slice(0, 300) || "no body";
  const type = headers["content-type"] ?? "";
  if (type.startsWith("application/problem+json")) return differsFromProblem(status, text);
  if (status >= 400 && text !== "") return `a refusal as ${type || "no type"}: ${text.slice(0, 200)}`;
  return undefined;
}

/** Least squares [MB a 10,000 requests]. */
function slope(points: readonly { at: number; mb: number }[]): number | undefined {
  if (points.length < 2) return undefined;
  const mean = (values: readonly number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  const x = mean(points.map(({ at }) => at));
  const y = mean(points.map(({ mb }) => mb));
  const over = points.reduce((sum, { at, mb }) => sum + (at - x) * (mb - y), 0);
  const under = points.reduce((sum, { at }) => sum + (at - x) ** 2, 0);
  return (10_000 * over) / under;
}
