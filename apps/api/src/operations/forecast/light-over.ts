import { addDays, DomainError, type LightWindows, localDay } from "@fieldstop/core";
import { type LightWindowsInput, lightWindows } from "@fieldstop/operations";
import type { ShownLight } from "../../formats/pictures/light-band";
import type { Told } from "../../formats/told";

/** The light of a forecast over a span that may begin on the day before or end on the day after. */
export function lightOver(
  input: LightWindowsInput,
  { date, timeZone, light }: Pick<Told, "date" | "timeZone" | "light">,
  [fromMs, toMs]: readonly [number, number],
): ShownLight {
  const { startMs, endMs } = localDay(date, timeZone);
  const lightOf = (days: number): LightWindows[] => {
    try {
      return [lightWindows(input, addDays(date, days))];
    } catch (error) {
      // beyond the years that are answered nothing is known
      if (!(error instanceof DomainError && error.code === "impossible")) throw error;
      return [];
    }
  };
  const before = fromMs < startMs ? lightOf(-1) : [];
  const after = toMs > endMs ? lightOf(1) : [];
  return joined([...before, light as LightWindows, ...after]);
}

/** Days in a row as one: what ends at a midnight goes on with what begins there. */
function joined(days: readonly ShownLight[]): ShownLight {
  const events = days.flatMap((day) => day.events);
  const passes = events.some(({ name }) => name === "sunrise" || name === "sunset");
  return {
    events,
    polar: passes ? "none" : (days[0] as ShownLight).polar,
    windows: merged(days.flatMap((day) => day.windows)),
    directLight: { intervals: merged(days.flatMap((day) => day.directLight.intervals)) },
  };
}

type Stretch = ShownLight["directLight"]["intervals"][number] & { readonly kind?: string };

function merged<S extends Stretch>(stretches: readonly S[]): S[] {
  const whole: S[] = [];
  for (const stretch of stretches) {
    const i = whole.findIndex(({ kind, end }) => kind === stretch.kind && end === stretch.start);
    if (i < 0) whole.push(stretch);
    else whole[i] = { ...(whole[i] as S), end: stretch.end };
  }
  return whole;
}
