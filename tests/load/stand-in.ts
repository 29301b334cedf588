import { type ChildProcess, fork } from "node:child_process";
import { once } from "node:events";
import { createHistogram, type RecordableHistogram } from "node:perf_hooks";
import { fileURLToPath } from "node:url";
import { Crowd, type Shot } from "./crowd";

const program = fileURLToPath(new URL("stand-in.mjs", import.meta.url));

const WARM_UP_SECONDS = 0.5;

/** A bare server that is as long over each request as it is told, beside a thread that never rests, and how long the same callers wait for it: the limit of the machine. */
export class StandIn {
  /** How long callers waited [µs]. */
  readonly waits: RecordableHistogram = createHistogram();
  /** The longest that all but one of a hundred waited, each time that it bore something [µs]. */
  readonly p99s: number[] = [];
  readonly #child: ChildProcess;
  readonly #crowd: Crowd;
  /** What is borne just now. */
  #now: RecordableHistogram | undefined;

  private constructor(child: ChildProcess, port: number, shots: readonly Shot[]) {
    this.#child = child;
    const onReply = ({ tookMs }: { readonly tookMs: number }): void => {
      this.#now?.record(Math.max(1, Math.round(1000 * tookMs)));
    };
    this.#crowd = new Crowd({ address: { host: "127.0.0.1", port }, shots, onReply });
  }

  get pid(): number {
    return this.#child.pid as number;
  }

  static async start(shots: readonly Shot[], connections: number): Promise<StandIn> {
    const child = fork(program, { execArgv: [] });
    const [port] = (await once(child, "message")) as [number];
    const standIn = new StandIn(child, port, shots);
    await standIn.#crowd.gather(connections);
    return standIn;
  }

  /** @param micros how long it is over each request, beside what Node itself takes [µs] */
  async bear(perSecond: number, seconds: number, micros: number, random: () => number): Promise<void> {
    this.#child.send({ micros, isBusy: true });
    // until its code is compiled it is slower than what it stands in for
    await this.#crowd.openLoop(perSecond, WARM_UP_SECONDS, random);
    const now = createHistogram();
    this.#now = now;
    await this.#crowd.openLoop(perSecond, seconds, random);
    this.#now = undefined;
    if (now.count > 0) this.waits.add(now);
    this.p99s.push(now.percentile(99));
    this.#child.send({ micros: 0, isBusy: false });
  }

  stop(): void {
    this.#crowd.close();
    this.#child.kill("SIGKILL");
  }
}
