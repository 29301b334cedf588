import type { CloudCover } from "@fieldstop/core";

/** What a provider says of the sky and the air at one hour. */
export interface Weather {
  /** Name of the provider. */
  readonly provider: string;
  /** To be shown with whatever is made of it. */
  readonly attribution: string;
  readonly licenceUrl: string;
  /** When the provider made it [Unix ms]; null where it does not say. */
  readonly issuedMs: number | null;
  /** The instant that it is read for [Unix ms]. */
  readonly validForMs: number;
  /** Absent where the provider leaves out a level. */
  readonly cloudCover?: CloudCover;
  readonly temperatureC?: number;
  readonly relativeHumidity?: number;
  /** Whether it is a kept answer past its time, since the provider is away. */
  readonly stale: boolean;
}

/** Why there is no weather: said in the assumptions. */
export interface NoWeather {
  readonly why: "away" | "beyond-range";
}

export interface WeatherSource {
  /** The weather of a place at an instant; it never throws for a provider that is away. */
  at(latitude: number, longitude: number, instantMs: number): Promise<Weather | NoWeather>;
}
