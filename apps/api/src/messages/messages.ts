import type { ForecastHeadline, ForecastLine, ForecastSession, MomentName, PackItemName } from "@fieldstop/core";

/** How one language says each code, with its values. */
export type Sayings<Told extends { readonly code: string }> = {
  readonly [Code in Told["code"]]: (told: Extract<Told, { readonly code: Code }>, session: ForecastSession) => string;
};

/** Everything that the service writes for people about a forecast, in one language. */
export interface Messages {
  readonly headline: Sayings<ForecastHeadline>;
  readonly line: Sayings<ForecastLine>;
  readonly moment: Readonly<Record<MomentName, string>>;
  readonly item: Readonly<Record<PackItemName, string>>;
}
