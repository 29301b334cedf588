import { lightWindowsInput } from "@fieldstop/operations";
import type { z } from "@hono/zod-openapi";
import { languageFor } from "../../formats/messages/language";
import { ICS_TYPE, JSON_TYPE, SVG_TYPE } from "../../middleware/accept";
import { type Answer, jsonText, text } from "../../middleware/answer";
import { runJob } from "../../services";
import { lookups, type OperationRequest, picture } from "../operation";
import { comingDays, eachPossibleInTurn } from "../shared/coming-days";
import { DEFAULT_DAYS, DEFAULT_WIDTH_PX } from "../shared/form-options";
import type { ForecastQuery } from "./forecast.schema";
import { forecastInput } from "./forecast-input";
import { forecastRequestOf } from "./forecast-request";

type ForecastFormInput = z.output<typeof ForecastQuery> & {
  /** Of a picture [px]. */
  readonly width?: number | undefined;
  /** Of a calendar. */
  readonly days?: number | undefined;
};

/** Answer with a forecast in any of its forms. */
export async function answerForecast(
  request: Pick<OperationRequest, "services" | "context">,
  type: string,
  { lang, width = DEFAULT_WIDTH_PX, days = DEFAULT_DAYS, ...query }: ForecastFormInput,
): Promise<Answer<never>> {
  const services = lookups(request);
  const wanted = forecastRequestOf(query);
  const headers = { "content-language": languageFor(lang).tag };
  if (type === ICS_TYPE) {
    const inputs = await eachPossibleInTurn(comingDays(services, { ...wanted, days }), (date) =>
      forecastInput(services, { ...wanted, date }),
    );
    const calendar = await runJob(services, "forecastCalendar", { inputs, lang });
    return text(calendar.text, `${ICS_TYPE}; charset=utf-8`, calendar.lifespan, headers);
  }
  const input = await forecastInput(services, wanted);
  if (type === JSON_TYPE) {
    const written = await runJob(services, "forecastJson", { input, lang });
    return jsonText(written.text, written.lifespan, headers);
  }
  const { place, horizon } = wanted;
  const atmosphere = { temperatureC: input.weather?.temperatureC };
  const light = await lightWindowsInput(services, { place, horizon, atmosphere });
  const written = await runJob(services, "forecastDocument", { input, light, type, width, lang });
  if (type === SVG_TYPE) return picture(written.text, written.lifespan, headers);
  return text(written.text, `${type}; charset=utf-8`, written.lifespan, headers);
}
