import type {
  ApproachKind,
  CautionCode,
  ForecastHeadline,
  ForecastLine,
  ForecastSession,
  MomentName,
  PackItemName,
} from "@fieldstop/core";

/** How one language says each code, with its values. */
export type Sayings<Told extends { readonly code: string }> = {
  readonly [Code in Told["code"]]: (told: Extract<Told, { readonly code: Code }>, session: ForecastSession) => string;
};

/** Everything that the service writes for people about a forecast, in one language. */
export interface Messages {
  readonly headline: Sayings<ForecastHeadline>;
  readonly line: Sayings<ForecastLine>;
  readonly moment: Readonly<Record<MomentName, string>>;
  /** The same in a word or two, for those that a picture names. */
  readonly shortMoment: Readonly<Partial<Record<MomentName, string>>>;
  readonly item: Readonly<Record<PackItemName, string>>;
  /** One short line each, for pictures and texts. */
  readonly caution: Readonly<Record<CautionCode, string>>;
  readonly approach: Readonly<Record<ApproachKind, string>>;
  readonly event: Readonly<Record<"sunrise" | "sunset", string>>;
  readonly window: Readonly<Record<"golden-hour" | "blue-hour", string>>;
  readonly words: Words;
}

/** What stands round the values: headings and short phrases. */
export interface Words {
  /** As a heading: the session of a day, at a place where it has a name. */
  title(session: ForecastSession, date: string, place: string): string;
  lightOf(date: string, place: string): string;
  readonly directLight: string;
  readonly directLightAllDay: string;
  readonly noDirectLight: string;
  readonly sunBehindTerrain: string;
  /** Elevation data that should be there cannot be read: all of it, or a part. */
  terrainUnread(partly: boolean): string;
  terrainTakes(minutes: number): string;
  readonly moments: string;
  readonly takeCare: string;
  timesOf(timeZone: string): string;
  skyOverGround(stops: number): string;
  /** Who made the weather, and how old it is. */
  weather(attribution: string, issuedTime: string | null, stale: boolean): string;
  calendar(place: string): string;
}
