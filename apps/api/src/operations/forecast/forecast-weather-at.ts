import { type Assumption, addDays, dayEvents, dewPoint, localDay } from "@fieldstop/core";
import { placeTime } from "@fieldstop/operations";
import type { z } from "@hono/zod-openapi";
import type { ToldWeather } from "../../formats/told";
import type { Services } from "../../services";
import type { ForecastRequest } from "./forecast.schema";

type WeatherRequest = Pick<z.output<typeof ForecastRequest>, "place" | "date" | "sky"> & {
  readonly session: "evening" | "morning";
};
type Sky = NonNullable<WeatherRequest["sky"]>;

interface FoundWeather {
  /** What to plan with: what the caller said of the sky comes first. */
  readonly sky?: Sky;
  readonly weather?: ToldWeather;
  readonly assumptions: readonly Assumption[];
}

const WHY_NONE = {
  away: "the weather provider is away",
  "beyond-range": "the day is beyond what the weather provider forecasts",
} as const;

/** The weather of the session: what the caller gave, else the provider's, else none, which the answer says. */
export async function forecastWeatherAt(services: Services, request: WeatherRequest): Promise<FoundWeather> {
  const given = request.sky;
  const nothing = (why: string): FoundWeather => ({
    ...(given && { sky: given }),
    assumptions: given?.cloudCover ? [] : [{ field: "sky.cloudCover", value: "clear", why }],
  });
  if (services.weather === undefined) return nothing("no cloud was given, and the service has no weather provider");
  if (given?.cloudCover !== undefined && given.temperatureC !== undefined && given.relativeHumidity !== undefined) {
    return nothing("");
  }
  const { latitude, longitude } = request.place;
  const { clock, instantMs } = hourOfEvent(services, request);
  const found = await services.weather.at(latitude, longitude, instantMs);
  if ("why" in found) return nothing(WHY_NONE[found.why]);
  const write = (ms: number): string => clock.format(Math.round(ms / 1000) * 1000);
  const { issuedMs, validForMs, stale, provider, attribution, licenceUrl, ...reading } = found;
  const { temperatureC, relativeHumidity } = reading;
  const dew =
    temperatureC === undefined || relativeHumidity === undefined
      ? {}
      : { dewPointC: dewPoint(temperatureC, relativeHumidity).dewPointC };
  return {
    sky: {
      ...given,
      cloudCover: given?.cloudCover ?? reading.cloudCover,
      temperatureC: given?.temperatureC ?? temperatureC,
      relativeHumidity: given?.relativeHumidity ?? relativeHumidity,
    },
    weather: {
      provider,
      attribution,
      licenceUrl,
      issuedAt: issuedMs === null ? null : write(issuedMs),
      validFor: write(validForMs),
      ...reading,
      ...dew,
      stale,
    },
    assumptions:
      reading.cloudCover === undefined && given?.cloudCover === undefined
        ? [{ field: "sky.cloudCover", value: "clear", why: "the weather provider says nothing of cloud by level" }]
        : [],
  };
}

/** The almanac's sunset or sunrise of the day; where there is none the middle of a polar night, else six hours from noon. */
function hourOfEvent(services: Services, { place, date: requestedDate, session }: WeatherRequest) {
  const { timeZone, clock } = placeTime(services, place);
  const date = requestedDate ?? clock.dateAt(services.nowMs());
  addDays(date, 0);
  const { startMs, endMs } = localDay(date, timeZone);
  const wanted = session === "evening" ? "sunset" : "sunrise";
  const { events, polar } = dayEvents(startMs, endMs, place, place.eyeHeightM);
  const found = events.find(({ name }) => name === wanted)?.instantMs;
  const middleMs = (startMs + endMs) / 2;
  const fromNoonHours = polar === "night" ? 0 : session === "evening" ? 6 : -6;
  return { clock, instantMs: found ?? middleMs + fromNoonHours * 3_600_000 };
}
