import { type Logger, pino } from "pino";
import type { AccessLog } from "../middleware/access-log";
import type { Config } from "./config";

const WRITTEN_EACH_MS = 500;
const WRITTEN_AT_CHARACTERS = 32_768;

/** What is written of the service: what happens to it, and what it is asked. */
export interface ServiceLog {
  readonly log: Logger;
  /** Absent where the level leaves it out. */
  readonly access?: AccessLog;
}

/** Write JSON lines to the standard error, gathered for half a second at most: writing each by itself costs more than all else about it. */
export function openLog({ logLevel }: Pick<Config, "logLevel">): ServiceLog {
  const destination = pino.destination({ dest: 2, sync: false });
  let lines = "";
  const write = (): void => {
    if (lines !== "") destination.write(lines);
    lines = "";
  };
  setInterval(write, WRITTEN_EACH_MS).unref();
  const flush = (): void => {
    write();
    destination.flushSync();
  };
  // whatever ends the process, what was gathered is written
  process.on("exit", flush);
  const gathered = {
    write(line: string) {
      lines += line;
      if (lines.length >= WRITTEN_AT_CHARACTERS) write();
    },
    flush,
  };
  const log = pino({ level: logLevel, base: { pid: process.pid } }, gathered);
  return log.isLevelEnabled("info") ? { log, access: (entry) => log.info(entry) } : { log };
}
