import type { ForecastSource } from "../forecast/forecast-source";
import { messageOf } from "../forecast/message";
import { plainText } from "../forecast/texts";
import { messageIdOf } from "../ledger/key";
import type { Places } from "../places/read-places";
import { tonight } from "../schedule/night";
import { print } from "./print";

/** Shows what would be posted, and where to. Nothing is sent, and no ledger is opened. Returns how many were refused. */
export async function dryRun(
  { places, channels }: Places,
  forecasts: ForecastSource,
  date: string | undefined,
  signal: AbortSignal,
): Promise<number> {
  let refused = 0;
  const nowMs = Date.now();
  const wanted = places.map((place) => ({ place, date: date ?? tonight(place, nowMs) }));
  for (let from = 0; from < wanted.length; from += 1000) {
    for await (const made of forecasts.make(wanted.slice(from, from + 1000), signal)) {
      const { place, date: night } = made.wanted;
      if ("refused" in made) {
        refused++;
        await print(`${place.id}: the service makes no forecast: ${made.refused}\n\n`);
        continue;
      }
      await print(`${plainText(messageOf(place, made.forecast, nowMs))}\n`);
      for (const channel of place.channels) {
        const id = messageIdOf({ placeId: place.id, night, channel });
        await print(`  would go to ${channel} (${channels[channel]?.kind}) as ${id}\n`);
      }
      await print("\n");
    }
  }
  return refused;
}
