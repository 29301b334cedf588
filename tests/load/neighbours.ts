import { setTimeout as delay } from "node:timers/promises";
import { median } from "../median";
import { Caller } from "./exchange";
import { ServiceProcess } from "./service";

export interface NeighboursFigures {
  /** 99 of 100 of the quiet client's answers come within this, by round [ms]. */
  readonly quietMs: readonly number[];
  readonly besideMs: readonly number[];
  readonly greedyStatuses: Readonly<Record<string, number>>;
  readonly faults: readonly string[];
}

const ROUNDS = 3;
const SECONDS = 20;
const GREEDY_CALLERS = 16;
/** How much longer a client may wait beside one that is at its limit. */
const MAX_RATIO = 3;

const place = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4 };
const plan = (day: number) => ({
  place,
  date: new Date(Date.UTC(2027, 0, 1 + (day % 365))).toISOString().slice(0, 10),
  session: "evening",
  camera: { focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
});

/** How long one client waits while another, at its limit, asks for as much as it can. Each comes through a proxy, by an address of its own. */
export async function proveNeighbours(): Promise<NeighboursFigures> {
  const service = await ServiceProcess.start({ FIELDSTOP_TRUSTED_PROXIES: "1", FIELDSTOP_RATE_LIMIT: "3000" });
  const quietMs: number[] = [];
  const besideMs: number[] = [];
  const greedyStatuses: Record<string, number> = {};
  const faults: string[] = [];
  await waitsOf(service, 5, faults);
  for (let round = 0; round < ROUNDS; round++) {
    quietMs.push(await waitsOf(service, SECONDS, faults));
    let isOver = false;
    const greedy = new Caller(service.address, GREEDY_CALLERS);
    const callers = Array.from({ length: GREEDY_CALLERS }, async (_, caller) => {
      for (let day = 37 * caller; !isOver; day++) {
        const { status } = await post(greedy, "198.51.100.7", plan(day));
        greedyStatuses[status] = (greedyStatuses[status] ?? 0) + 1;
      }
    });
    await delay(5000);
    besideMs.push(await waitsOf(service, SECONDS, faults));
    isOver = true;
    await Promise.all(callers);
    greedy.close();
  }
  await service.stop();
  const ratios = besideMs.map((ms, i) => ms / (quietMs[i] as number));
  if (median(ratios) > MAX_RATIO)
    faults.push(`p99 is ${ratios.map((ratio) => ratio.toFixed(1)).join(", ")} times its quiet value`);
  return { quietMs, besideMs, greedyStatuses, faults };
}

/** The 99th of a hundred waits of a client that asks ten times a second [ms]. */
async function waitsOf(service: ServiceProcess, seconds: number, faults: string[]): Promise<number> {
  const caller = new Caller(service.address, 4);
  const waits: number[] = [];
  for (let i = 0; i < 10 * seconds; i++) {
    const next = delay(100);
    const { status, tookMs } = await post(caller, "203.0.113.9", plan(i));
    waits.push(tookMs);
    if (status !== 200 && faults.length < 10) faults.push(`the quiet client got ${status}`);
    await next;
  }
  caller.close();
  return waits.sort((a, b) => a - b)[Math.floor(0.99 * waits.length)] as number;
}

function post(caller: Caller, address: string, body: object) {
  const headers = { "content-type": "application/json", "x-forwarded-for": address };
  return caller.ask("POST", "/v1/outings/plan", headers, JSON.stringify(body));
}
