import { ALMANAC_REVISED_MS, calendar } from "./calendar";
import { weatherLine } from "./forecast-rows";
import type { Messages } from "./messages/messages";
import { placeName } from "./place-name";
import type { Told } from "./told";

/** Forecasts of one place as a calendar: each from when to be there until when to stay. */
export function forecastCalendar(days: readonly Told[], messages: Messages): string {
  const { words } = messages;
  const { place } = days[0] as Told;
  const name = placeName(place);
  const entries = days.map((told) => {
    const weather = weatherLine(told, messages);
    const { issuedAt } = told.weather ?? { issuedAt: null };
    return {
      id: told.id,
      start: told.arriveBy,
      end: told.stayUntil,
      summary: told.headline,
      description: [
        ...told.summary.map(({ text }) => text),
        words.timesOf(told.timeZone),
        `${words.takeCare}: ${told.cautions.map(({ code }) => messages.caution[code]).join(" ")}`,
        ...(weather === null ? [] : [weather]),
      ].join("\n"),
      revisedMs: Math.max(ALMANAC_REVISED_MS, issuedAt === null ? 0 : Date.parse(issuedAt)),
    };
  });
  return calendar(words.calendar(name), { name, latitude: place.latitude, longitude: place.longitude }, entries);
}
