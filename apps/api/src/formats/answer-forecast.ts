import type { z } from "@hono/zod-openapi";
import { answerText, holdingOf } from "../middleware/answer";
import { ICS_TYPE, MARKDOWN_TYPE, SVG_TYPE } from "../middleware/representations";
import type { ForecastQuery } from "../operations/forecast/forecast.schema";
import { forecastAt } from "../operations/forecast/forecast-at";
import { forecastRequestOf } from "../operations/forecast/forecast-request";
import { USUAL_DAYS, USUAL_WIDTH_PX } from "../operations/forecast/form-options.schema";
import { lightOver } from "../operations/forecast/light-over";
import type { AnswerContext } from "../operations/operation-context";
import { answerPicture } from "../operations/picture";
import { comingDays } from "../operations/shared/coming-days";
import { forecastCalendar } from "./forecast-calendar";
import { forecastMarkdown } from "./forecast-markdown";
import { forecastText } from "./forecast-text";
import { languageFor } from "./messages/language";
import { cardSpan, drawForecastCard } from "./pictures/forecast-card";

type Asked = z.output<typeof ForecastQuery> & {
  /** Of a picture [px]. */
  readonly width?: number | undefined;
  /** Of a calendar. */
  readonly days?: number | undefined;
};

/** A forecast in a form other than JSON. */
export async function answerForecast(c: AnswerContext, type: string, asked: Asked): Promise<Response> {
  const { lang, width = USUAL_WIDTH_PX, days = USUAL_DAYS, ...query } = asked;
  const { services } = c.var;
  const language = languageFor(lang);
  const { messages } = language;
  const request = forecastRequestOf(query);
  c.header("Content-Language", language.tag);
  if (type === ICS_TYPE) {
    const { date, place } = request;
    const told = await comingDays(services, { place, date, days }, (day) =>
      forecastAt(services, { ...request, date: day }, language),
    );
    const fields = { "Content-Type": `${ICS_TYPE}; charset=utf-8` };
    return answerText(c, await forecastCalendar(told, messages), fields, holdingOf(told[0]));
  }
  const told = await forecastAt(services, request, language);
  if (type === SVG_TYPE) {
    const light = await lightOver(services, request, told, cardSpan(told));
    return answerPicture(c, drawForecastCard(told, light, messages, width), holdingOf(told));
  }
  const text = type === MARKDOWN_TYPE ? forecastMarkdown(told, messages) : forecastText(told, messages);
  return answerText(c, text, { "Content-Type": `${type}; charset=utf-8` }, holdingOf(told));
}
