import type { CloudCover } from "@fieldstop/core";

/** What is forecast for one instant. */
export interface WeatherHour {
  readonly instantMs: number;
  /** Absent where the provider leaves out a level. */
  readonly cloudCover?: CloudCover;
  /** [°C] */
  readonly temperatureC?: number;
  /** [%] */
  readonly relativeHumidity?: number;
}

export interface WeatherSeries {
  /** When the provider made it [Unix ms]; null where it does not say. */
  readonly issuedMs: number | null;
  /** In order of time. */
  readonly hours: readonly WeatherHour[];
}

/** How one provider is asked, and what its answers mean. */
export interface WeatherProvider {
  readonly name: string;
  /** To be shown with whatever is made of its data. */
  readonly attribution: string;
  readonly licenceUrl: string;
  readonly baseUrl: string;
  /** Path and query for a place, at the four decimals that are asked at most. */
  pathFor(latitude: string, longitude: string): string;
  /** What a body says; throws where it has another form. */
  read(body: unknown): WeatherSeries;
}

/** A value as forecasts can be reckoned with; undefined where a provider leaves it out or strays. */
export function withinRange(value: number | null | undefined, least: number, most: number): number | undefined {
  return value == null || !(value >= least && value <= most) ? undefined : value;
}

/** One hour with what is known of it. */
export function weatherHour(
  instantMs: number,
  cover: readonly [low?: number | null, middle?: number | null, high?: number | null],
  air: { readonly temperatureC?: number | null | undefined; readonly relativeHumidity?: number | null | undefined },
): WeatherHour {
  const [low, middle, high] = cover.map((one) => withinRange(one, 0, 100));
  const temperatureC = withinRange(air.temperatureC, -45, 60);
  const relativeHumidity = withinRange(air.relativeHumidity, 1, 100);
  return {
    instantMs,
    ...(low === undefined || middle === undefined || high === undefined ? {} : { cloudCover: { low, middle, high } }),
    ...(temperatureC === undefined ? {} : { temperatureC }),
    ...(relativeHumidity === undefined ? {} : { relativeHumidity }),
  };
}
