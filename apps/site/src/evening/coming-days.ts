import type { LightWindows, OutingMoment } from "@fieldstop/sdk";
import type { Spot } from "../club";
import { dateAfter } from "../words/place-time";
import { decisiveMoment } from "./evening";
import type { Kit } from "./kit";
import { eveningHere } from "./load";
import type { Ridge } from "./ridge";

/** One spot on one of the coming days, under a clear sky. */
export interface ComingLight {
  readonly light: LightWindows;
  readonly moment: OutingMoment | undefined;
}

/** A coming day at each of some spots, in their order. */
export interface ComingDay {
  readonly date: string;
  readonly spots: readonly ComingLight[];
}

const DAYS = 6;

/** The days after one, reckoned in the page one by one, with time between for the page to answer its reader. */
export async function* comingDays(
  spots: readonly { readonly spot: Spot; readonly ridge: Ridge }[],
  date: string,
  kit: Kit,
): AsyncGenerator<ComingDay> {
  for (let day = 1; day <= DAYS; day++) {
    const then = dateAfter(date, day);
    const lights: ComingLight[] = [];
    for (const { spot, ridge } of spots) {
      await new Promise((resolve) => setTimeout(resolve));
      const evening = await eveningHere(spot, then, ridge, kit);
      lights.push({ light: evening.light, moment: decisiveMoment(evening) });
    }
    yield { date: then, spots: lights };
  }
}
