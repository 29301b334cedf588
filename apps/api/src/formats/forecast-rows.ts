import { clockTime } from "./messages/figures";
import type { Messages } from "./messages/messages";
import type { Told } from "./told";

/** One moment as it is read in a list: its time, what it is, the light, and how to take it. */
export interface MomentRow {
  readonly time: string;
  readonly name: string;
  readonly contrast: string;
  readonly approach: string;
  /** f-number, shutter time and ISO as they are marked. */
  readonly settings: string;
}

export function momentRows({ moments }: Pick<Told, "moments">, messages: Messages): MomentRow[] {
  return moments.map(({ name, instant, contrastStops, approach, exposure, bracket }) => {
    const frames = bracket === undefined ? "" : ` × ${bracket.count}`;
    return {
      time: clockTime(instant),
      name: messages.moment[name],
      contrast: messages.words.skyOverGround(contrastStops),
      approach: `${messages.approach[approach.kind]}${frames}`,
      settings: [exposure.aperture.nominal, exposure.shutter.nominal, exposure.iso.nominal].join(", "),
    };
  });
}

/** Who made the weather of a forecast; null where none is in it. */
export function weatherLine({ weather }: Pick<Told, "weather">, { words }: Messages): string | null {
  if (weather === undefined) return null;
  const issued = weather.issuedAt === null ? null : `${weather.issuedAt.slice(0, 10)} ${clockTime(weather.issuedAt)}`;
  return words.weather(weather.attribution, issued, weather.stale);
}
