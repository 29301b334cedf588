import type { WeatherHour, WeatherSeries } from "./weather-provider";

/** Steps farther apart than these of a medium range are a gap [ms]. */
const LONGEST_STEP_MS = 6.5 * 3_600_000;
const LEVELS = ["low", "middle", "high"] as const;

/** The weather at an instant, between the two steps round it; undefined outside the series and in its gaps. */
export function hourAt({ hours }: WeatherSeries, instantMs: number): WeatherHour | undefined {
  const after = hours.findIndex((hour) => hour.instantMs >= instantMs);
  const b = hours[after];
  if (b === undefined) return undefined;
  if (b.instantMs === instantMs) return b;
  const a = hours[after - 1];
  if (a === undefined || b.instantMs - a.instantMs > LONGEST_STEP_MS) return undefined;
  const share = (instantMs - a.instantMs) / (b.instantMs - a.instantMs);
  const between = (from: number, to: number): number => Math.round((from + (to - from) * share) * 10) / 10;
  const cover = a.cloudCover && b.cloudCover && ([a.cloudCover, b.cloudCover] as const);
  const [low, middle, high] = cover ? LEVELS.map((level) => between(cover[0][level], cover[1][level])) : [];
  return {
    instantMs,
    ...(low === undefined || middle === undefined || high === undefined ? {} : { cloudCover: { low, middle, high } }),
    ...(a.temperatureC === undefined || b.temperatureC === undefined
      ? {}
      : { temperatureC: between(a.temperatureC, b.temperatureC) }),
    ...(a.relativeHumidity === undefined || b.relativeHumidity === undefined
      ? {}
      : { relativeHumidity: between(a.relativeHumidity, b.relativeHumidity) }),
  };
}
