import { othersTurn, outingAt } from "@fieldstop/answers";
import { type ForecastSession, forecastWords, type OutingPlan } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import type { Language } from "../../formats/messages/language";
import type { Messages } from "../../formats/messages/messages";
import type { Services } from "../../services";
import { stableId } from "../shared/stable-id";
import type { Forecast, ForecastRequest } from "./forecast.schema";
import { forecastWeatherAt } from "./forecast-weather-at";

export type Told = z.output<typeof Forecast>;

/** The forecast of one place, in words. */
export async function forecastAt(
  services: Services,
  request: z.output<typeof ForecastRequest>,
  language: Language,
): Promise<Told> {
  const { id: _, session = "evening", camera = {}, ...asked } = request;
  const found = await forecastWeatherAt(services, { session, ...asked });
  // weather of many places may come at once; their plans are made one in a turn
  if (services.weather !== undefined) await othersTurn(services.signal);
  const outing = Object.assign({ session, camera }, asked, found.sky && { sky: found.sky });
  const plan = await outingAt(services, outing);
  const { skyline, cloudOutlook, assumptions, ...rest } = plan;
  const told = {
    id: stableId(plan.place, plan.date, session),
    session,
    ...inWords(plan, session, language.messages),
    ...rest,
    ...(skyline === null ? {} : { skyline }),
    ...(cloudOutlook === undefined ? {} : { skyOutlook: cloudOutlook }),
    ...(found.weather === undefined ? {} : { weather: found.weather }),
    // why there is no weather is the better reason for a clear sky
    assumptions: [
      ...assumptions.filter(({ field }) => !found.assumptions.some((said) => said.field === field)),
      ...found.assumptions,
    ],
  };
  return told as Told;
}

function inWords(plan: OutingPlan, session: ForecastSession, messages: Messages) {
  const { headline, summary } = forecastWords(plan, session);
  return {
    headline: say(messages.headline, headline, session),
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
