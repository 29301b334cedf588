import { Crowd, type Reply, type Shot, type Tally } from "./crowd";
import { type CoreTime, coreTime, coreTimeSince } from "./event-loop-delay";
import { Outcomes } from "./outcomes";
import type { ServiceProcess } from "./service";

/** Connections that find out how much the service can do. */
export const SATURATING = 32;
const TRIES = 3;

/** Who asks a service for one mix, and how it answers them. */
export class LoadRun {
  readonly crowd: Crowd;
  readonly #service: ServiceProcess;
  readonly #calm: ReadonlyMap<string, Buffer>;
  readonly #faults: string[];
  #outcomes: Outcomes;

  private constructor(
    service: ServiceProcess,
    shots: readonly Shot[],
    calm: ReadonlyMap<string, Buffer>,
    faults: string[],
  ) {
    this.#service = service;
    this.#calm = calm;
    this.#faults = faults;
    this.#outcomes = new Outcomes(calm);
    this.crowd = new Crowd({ address: service.address, shots, onReply: (reply) => this.#outcomes.take(reply) });
  }

  /**
   * What hangs on the moment at which it is asked is left out: its answers cannot be held against one another.
   * @param faults what is found wrong is told here, whatever is tried
   */
  static async on(service: ServiceProcess, shots: readonly Shot[], faults: string[]): Promise<LoadRun> {
    const calm = await calmAnswers(service, shots);
    const again = await calmAnswers(service, shots);
    const steady = shots.filter(({ name }) => again.get(name)?.equals(calm.get(name) as Buffer));
    return new LoadRun(service, steady, calm, faults);
  }

  async during(run: () => Promise<Tally>): Promise<Borne> {
    this.#outcomes = new Outcomes(this.#calm);
    const before = coreTime(this.#service);
    const tally = await run();
    this.#faults.push(...this.#outcomes.faults.slice(0, 5));
    return { outcomes: this.#outcomes, tally, core: coreTimeSince(before, this.#service) };
  }

  /** What the service can do. What else the machine does takes from it: the best of several is nearest. */
  async saturation(): Promise<Borne> {
    await this.during(() => this.crowd.closedLoop(SATURATING, 3));
    const tries: Borne[] = [];
    for (let i = 0; i < TRIES; i++) tries.push(await this.during(() => this.crowd.closedLoop(SATURATING, 2)));
    return tries.reduce((best, other) => (perSecond(other) > perSecond(best) ? other : best));
  }
}

export interface Borne {
  readonly outcomes: Outcomes;
  readonly tally: Tally;
  /** Of the service's event loop; undefined where the system does not tell. */
  readonly core: CoreTime | undefined;
}

export const perSecond = ({ outcomes, tally }: Borne): number => outcomes.answered.count / tally.seconds;

/** Each request once, one after another, as it is answered when all is calm. */
async function calmAnswers(service: ServiceProcess, shots: readonly Shot[]): Promise<Map<string, Buffer>> {
  const calm = new Map<string, Buffer>();
  const faults: string[] = [];
  const onReply = ({ shot: { name }, status, body }: Reply): void => {
    if (status === 200) calm.set(name, Buffer.from(body));
    else faults.push(`${name} -> ${status}`);
  };
  const crowd = new Crowd({ address: service.address, shots, onReply });
  while (calm.size < new Set(shots.map(({ name }) => name)).size && faults.length === 0) await crowd.closedLoop(1, 1);
  crowd.close();
  if (faults.length > 0) throw new Error(`not answered when all is calm: ${faults[0]}`);
  return calm;
}
