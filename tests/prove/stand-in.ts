import { spawn } from "node:child_process";
import { createHistogram, type RecordableHistogram } from "node:perf_hooks";
import { setTimeout as delay } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { Crowd, type Shot } from "./crowd";
import { freePort } from "./service";

const program = fileURLToPath(new URL("stand-in.mjs", import.meta.url));

const WARM_UP_SECONDS = 2;

export interface StandInAsked {
  readonly shots: readonly Shot[];
  readonly connections: number;
  readonly perSecond: number;
  readonly seconds: number;
  /** How long it is over each request, beside what Node itself takes [µs]. */
  readonly micros: number;
  readonly random: () => number;
}

/** How long the same callers wait for a bare server that is as long over each request, beside a thread that never rests [µs]: the limit of the machine. */
export async function standInWaits(asked: StandInAsked): Promise<RecordableHistogram> {
  const { shots, connections, perSecond, seconds, micros, random } = asked;
  const waits = createHistogram();
  const address = { host: "127.0.0.1", port: await freePort() };
  const child = spawn(process.execPath, [program, String(address.port), String(micros)], { stdio: "inherit" });
  let counts = false;
  const onReply = ({ tookMs }: { readonly tookMs: number }): void => {
    if (counts) waits.record(Math.max(1, Math.round(1000 * tookMs)));
  };
  const crowd = new Crowd({ address, shots, onReply });
  try {
    while (!(await isUp(address.port))) await delay(50);
    await crowd.gather(connections);
    // until its code is compiled it is slower than what it stands in for
    await crowd.openLoop(perSecond, WARM_UP_SECONDS, random);
    counts = true;
    await crowd.openLoop(perSecond, seconds, random);
    return waits;
  } finally {
    crowd.close();
    child.kill("SIGKILL");
  }
}

async function isUp(port: number): Promise<boolean> {
  try {
    await (await fetch(`http://127.0.0.1:${port}/`)).text();
    return true;
  } catch {
    return false;
  }
}
