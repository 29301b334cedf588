import type { ForecastHeadline, ForecastLine, ForecastSession, OutingPlan } from "@fieldstop/core";

/** The weather of a session, as its answer tells it. */
export interface ToldWeather {
  readonly provider: string;
  readonly attribution: string;
  readonly licenceUrl: string;
  readonly issuedAt: string | null;
  readonly validFor: string;
  readonly cloudCover?: { readonly low: number; readonly middle: number; readonly high: number };
  readonly temperatureC?: number;
  readonly relativeHumidity?: number;
  readonly dewPointC?: number;
  readonly stale: boolean;
}

/** A forecast of one place, in words: what every form of it is written from. */
export interface Told extends Omit<OutingPlan, "skyline" | "cloudOutlook"> {
  /** Stable for the place, the day and the session. */
  readonly id: string;
  readonly session: ForecastSession;
  readonly headline: string;
  readonly headlineCode: ForecastHeadline["code"];
  readonly summary: readonly { readonly code: ForecastLine["code"]; readonly text: string }[];
  readonly skyline?: NonNullable<OutingPlan["skyline"]>;
  readonly skyOutlook?: NonNullable<OutingPlan["cloudOutlook"]>;
  readonly weather?: ToldWeather;
}
