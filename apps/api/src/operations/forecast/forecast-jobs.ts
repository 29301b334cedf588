import { type LightWindowsInput, rounded } from "@fieldstop/operations";
import { forecastCalendar } from "../../formats/forecast-calendar";
import { forecastMarkdown } from "../../formats/forecast-markdown";
import { forecastText } from "../../formats/forecast-text";
import { languageFor } from "../../formats/messages/language";
import { cardSpan, drawForecastCard } from "../../formats/pictures/forecast-card";
import { MARKDOWN_TYPE, SVG_TYPE } from "../../middleware/accept";
import { type Lifespan, lifespanOf } from "../../middleware/answer";
import { eachPossible } from "../shared/coming-days";
import type { ForecastInput } from "./forecast-input";
import { lightOver } from "./light-over";
import { toldForecast } from "./told-forecast";

/** An answer as a worker writes it: its text, and what its lifetime depends on. */
export interface WrittenAnswer {
  readonly text: string;
  readonly lifespan: Lifespan;
}

export interface ForecastDocument {
  readonly input: ForecastInput;
  /** For the strip of a picture, which may show the day before or after. */
  readonly light: LightWindowsInput;
  readonly type: string;
  /** Of a picture [px]. */
  readonly width: number;
  readonly lang: string | undefined;
}

/** Compute forecasts and write them: the part that takes long, on plain data. */
export const forecastJobs = {
  forecastJson({ input, lang }: { readonly input: ForecastInput; readonly lang: string | undefined }): WrittenAnswer {
    const told = rounded(toldForecast(input, languageFor(lang)));
    return { text: JSON.stringify(told), lifespan: lifespanOf(told) };
  },

  forecastDocument({ input, light, type, width, lang }: ForecastDocument): WrittenAnswer {
    const language = languageFor(lang);
    const { messages } = language;
    const told = toldForecast(input, language);
    const lifespan = lifespanOf(told);
    if (type === SVG_TYPE) {
      return { text: drawForecastCard(told, lightOver(light, told, cardSpan(told)), messages, width), lifespan };
    }
    return { text: type === MARKDOWN_TYPE ? forecastMarkdown(told, messages) : forecastText(told, messages), lifespan };
  },

  forecastCalendar({
    inputs,
    lang,
  }: {
    readonly inputs: readonly ForecastInput[];
    readonly lang: string | undefined;
  }): WrittenAnswer {
    const language = languageFor(lang);
    const told = eachPossible(inputs, (input) => toldForecast(input, language));
    return { text: forecastCalendar(told, language.messages), lifespan: lifespanOf(told[0]) };
  },
};
