import { type ForecastSession, forecastWords, type OutingPlan } from "@fieldstop/core";
import { outing } from "@fieldstop/operations";
import type { Language } from "../../formats/messages/language";
import type { Messages } from "../../formats/messages/messages";
import { stableId } from "../../formats/stable-id";
import type { Told } from "../../formats/told";
import { lacksUnreadGround } from "../../middleware/cache-control";
import type { ForecastInput } from "./forecast-input";

/** Compute the forecast of one place, in words. */
export function toldForecast(input: ForecastInput, language: Language): Told {
  const { session, weather, weatherAssumptions } = input;
  const plan = outing(input.outing);
  const { skyline, cloudOutlook, assumptions, ...rest } = plan;
  return {
    id: stableId(plan.place, plan.date, session),
    session,
    ...inWords(plan, session, language.messages),
    ...rest,
    ...(skyline === null ? {} : { skyline }),
    ...(cloudOutlook === undefined ? {} : { skyOutlook: cloudOutlook }),
    ...(weather === undefined ? {} : { weather }),
    // why there is no weather is the better reason for a clear sky
    assumptions: [
      ...assumptions.filter(({ field }) => !weatherAssumptions.some((said) => said.field === field)),
      ...weatherAssumptions,
    ],
  };
}

function inWords(plan: OutingPlan, session: ForecastSession, messages: Messages) {
  const { headline, summary } = forecastWords(plan, session);
  const { horizon } = plan.light;
  // said first: a ridge that is missing moves every time that follows
  const warning = lacksUnreadGround(horizon) ? `${messages.words.terrainUnread(horizon.kind !== "flat")} ` : "";
  return {
    headline: warning + say(messages.headline, headline, session),
    headlineCode: headline.code,
    summary: summary.map((line) => ({ code: line.code, text: say(messages.line, line, session) })),
  };
}

function say<Code extends string, T extends { readonly code: Code }>(
  sayings: { readonly [C in Code]: (told: never, session: ForecastSession) => string },
  told: T,
  session: ForecastSession,
): string {
  return sayings[told.code](told as never, session);
}
