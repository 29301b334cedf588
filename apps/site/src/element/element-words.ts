import type { Forecast } from "@fieldstop/sdk";
import { lightSentence } from "../words/light-words";
import { dayInWords } from "../words/place-time";

export interface ElementWords {
  readonly title: string;
  readonly clock: string | null;
  readonly what: string;
  readonly lines: readonly string[];
  readonly caution: string;
}

/** What the element says of a forecast. */
export function words(forecast: Forecast, name: string | null): ElementWords {
  const { light, session, date, summary, cautions } = forecast;
  const { clock, what } = lightSentence(light, session);
  const place = name ?? forecast.place.name;
  const day = dayInWords(date, "short");
  const sun = cautions.find(({ code }) => code === "sun-through-optics")?.text;
  return {
    title: place === undefined ? day : `${place}, ${day}`,
    clock,
    what,
    lines: summary.map(({ text }) => text),
    caution: `${sun === undefined ? "" : `${sun} `}Local tide tables, signs and wardens have the last word.`,
  };
}
