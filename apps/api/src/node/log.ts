import { type Logger, pino } from "pino";
import type { Config } from "./config";

const WRITTEN_EACH_MS = 500;
const WRITTEN_AT_BYTES = 8192;

/** JSON lines on the standard error, gathered for half a second at most, so that a line for each request costs next to nothing. */
export function openLog({ logLevel }: Pick<Config, "logLevel">): Logger {
  const destination = pino.destination({ dest: 2, sync: false, minLength: WRITTEN_AT_BYTES });
  setInterval(() => destination.flush(), WRITTEN_EACH_MS).unref();
  // whatever ends the process, what was gathered is written
  process.on("exit", () => destination.flushSync());
  return pino({ level: logLevel, base: { pid: process.pid } }, destination);
}
