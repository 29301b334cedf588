import { type Logger, pino } from "pino";
import type { AccessEntry, AccessLog } from "../middleware/access-log";
import type { Config } from "./config";

const WRITTEN_EACH_MS = 500;
const WRITTEN_AT_CHARACTERS = 32_768;

/** What is written of the service: what happens to it, and what it is asked. */
export interface ServiceLog {
  readonly log: Logger;
  /** Absent where the level leaves it out. */
  readonly access?: AccessLog;
}

/** JSON lines on the standard error; those of requests are gathered for half a second at most, so that one costs next to nothing. */
export function openLog({ logLevel }: Pick<Config, "logLevel">): ServiceLog {
  const destination = pino.destination({ dest: 2, sync: false });
  const log = pino({ level: logLevel, base: { pid: process.pid } }, destination);
  if (!log.isLevelEnabled("info")) return { log };
  // gathered here, since the destination counts all that it holds anew for each line
  let lines = "";
  const write = (): void => {
    if (lines === "") return;
    destination.write(lines);
    lines = "";
  };
  setInterval(write, WRITTEN_EACH_MS).unref();
  // whatever ends the process, what was gathered is written
  process.on("exit", () => {
    write();
    destination.flushSync();
  });
  const access: AccessLog = (entry) => {
    lines += accessLine(entry, process.pid, Date.now());
    if (lines.length >= WRITTEN_AT_CHARACTERS) write();
  };
  return { log, access };
}

/** The line that the log would write of an entry at level info, at a fraction of the time: its fields are few, and known. */
export function accessLine(entry: AccessEntry, pid: number, timeMs: number): string {
  const { requestId, traceId, method, route, status, ms, near } = entry;
  const trace = traceId === undefined ? "" : `"traceId":"${traceId}",`;
  const place = near === undefined ? "" : `,"near":[${near[0]},${near[1]}]`;
  return `{"level":${INFO},"time":${timeMs},"pid":${pid},"requestId":"${requestId}",${trace}"method":${quoted(method)},"route":${quoted(route)},"status":${status},"ms":${ms}${place}}\n`;
}

const INFO = pino.levels.values["info"];

/** Methods and routes are few; what else a caller makes up as a method is written anew each time. */
const MOST_QUOTED = 200;
const quotedBefore = new Map<string, string>();

function quoted(text: string): string {
  let known = quotedBefore.get(text);
  if (known === undefined) {
    known = JSON.stringify(text);
    if (quotedBefore.size < MOST_QUOTED) quotedBefore.set(text, known);
  }
  return known;
}
