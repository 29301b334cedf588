import { z } from "zod";
import { type WeatherProvider, weatherHour } from "./weather-provider";

const column = z.array(z.number().nullable()).max(1000);
const Answer = z.object({
  hourly: z.object({
    time: z.array(z.number()).max(1000),
    temperature_2m: column.optional(),
    relative_humidity_2m: column.optional(),
    cloud_cover_low: column.optional(),
    cloud_cover_mid: column.optional(),
    cloud_cover_high: column.optional(),
  }),
});

// Open-Meteo, Weather Forecast API (open-meteo.com/en/docs): columns side by side, times in seconds of UTC where timeformat=unixtime; low cloud and fog
// up to 3 km, middle from 3 to 8 km, high above [%]. Up to 16 days.
const HOURLY = "temperature_2m,relative_humidity_2m,cloud_cover_low,cloud_cover_mid,cloud_cover_high";

/** Open-Meteo's forecast, JSON. */
export const openMeteo: WeatherProvider = {
  name: "Open-Meteo",
  attribution: "Weather data by Open-Meteo.com, CC BY 4.0",
  licenceUrl: "https://creativecommons.org/licenses/by/4.0/",
  baseUrl: "https://api.open-meteo.com",
  pathFor: (latitude, longitude) =>
    `/v1/forecast?latitude=${latitude}&longitude=${longitude}&hourly=${HOURLY}&timeformat=unixtime&timezone=GMT&past_days=1&forecast_days=16`,
  read: (body) => {
    const { hourly } = Answer.parse(body);
    const hours = hourly.time.map((seconds, i) =>
      weatherHour(
        seconds * 1000,
        [hourly.cloud_cover_low?.[i], hourly.cloud_cover_mid?.[i], hourly.cloud_cover_high?.[i]],
        { temperatureC: hourly.temperature_2m?.[i], relativeHumidity: hourly.relative_humidity_2m?.[i] },
      ),
    );
    return { issuedMs: null, hours: hours.sort((a, b) => a.instantMs - b.instantMs) };
  },
};
