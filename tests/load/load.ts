import { seeded } from "../accuracy/errors";
import { bearsHalf } from "./half-load";
import { everyShot, smallShots } from "./mixed-shots";
import { ServiceProcess } from "./service";
import { bearsTwice } from "./twice-load";

export interface LoadProof {
  readonly figures: Readonly<Record<string, string>>;
  readonly faults: readonly string[];
}

/** How the built service bears half of what it can and twice of it, and what comes after. */
export async function proveByLoad(seconds: number): Promise<LoadProof> {
  const service = await ServiceProcess.start({});
  const host = `${service.address.host}:${service.address.port}`;
  const random = seeded(20_270_320);
  const faults: string[] = [];
  try {
    const half = await bearsHalf(service, smallShots(host), random, faults);
    const twice = await bearsTwice(service, everyShot(host), seconds, random, faults);
    if (!service.alive) faults.push("the process ended");
    return { figures: { ...half, ...twice }, faults };
  } finally {
    await service.stop();
  }
}
