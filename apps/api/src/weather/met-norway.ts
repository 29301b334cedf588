import { z } from "zod";
import { type WeatherProvider, weatherHour } from "./weather-provider";

// MET Norway, Locationforecast 2.0 data model (docs.api.met.no/doc/locationforecast/datamodel): instants are UTC; cloud_area_fraction_low lies
// below 2000 m, _medium between 2000 and 5000 m, _high above [%]. Only the complete form has the levels.
const fraction = z.number().nullish();
const Answer = z.object({
  properties: z.object({
    meta: z.object({ updated_at: z.iso.datetime({ offset: true }) }),
    timeseries: z
      .array(
        z.object({
          time: z.iso.datetime({ offset: true }),
          data: z.object({
            instant: z.object({
              details: z
                .object({
                  air_temperature: z.number().nullish(),
                  relative_humidity: z.number().nullish(),
                  cloud_area_fraction_low: fraction,
                  cloud_area_fraction_medium: fraction,
                  cloud_area_fraction_high: fraction,
                })
                .default({}),
            }),
          }),
        }),
      )
      .max(1000),
  }),
});

/** MET Norway's Locationforecast 2.0, complete JSON. Its terms: api.met.no/doc/TermsOfService. */
export const metNorway: WeatherProvider = {
  name: "MET Norway",
  attribution: "Weather data from MET Norway, CC BY 4.0",
  licenceUrl: "https://creativecommons.org/licenses/by/4.0/",
  baseUrl: "https://api.met.no",
  pathFor: (latitude, longitude) => `/weatherapi/locationforecast/2.0/complete?lat=${latitude}&lon=${longitude}`,
  read: (body) => {
    const { meta, timeseries } = Answer.parse(body).properties;
    const hours = timeseries.map(({ time, data }) => {
      const { details } = data.instant;
      const { cloud_area_fraction_low, cloud_area_fraction_medium, cloud_area_fraction_high } = details;
      return weatherHour(
        Date.parse(time),
        [cloud_area_fraction_low, cloud_area_fraction_medium, cloud_area_fraction_high],
        { temperatureC: details.air_temperature, relativeHumidity: details.relative_humidity },
      );
    });
    return { issuedMs: Date.parse(meta.updated_at), hours: hours.sort((a, b) => a.instantMs - b.instantMs) };
  },
};
