import { createServer, type IncomingMessage, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";

export interface ProviderServer {
  readonly baseUrl: string;
  /** Every request that came. */
  readonly requests: { readonly url: string; readonly headers: IncomingMessage["headers"] }[];
  /** How the next requests are answered. */
  answer: (request: IncomingMessage, response: ServerResponse) => void;
  close(): Promise<void>;
}

/** A local server that stands in for a weather provider. */
export async function startProvider(answer: ProviderServer["answer"]): Promise<ProviderServer> {
  const requests: ProviderServer["requests"] = [];
  const server = createServer((request, response) => {
    requests.push({ url: request.url ?? "", headers: request.headers });
    provider.answer(request, response);
  });
  await new Promise<void>((resolve) => server.listen(0, "127.0.0.1", resolve));
  const provider: ProviderServer = {
    baseUrl: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    requests,
    answer,
    close: () => {
      server.closeAllConnections();
      return new Promise((resolve) => server.close(() => resolve()));
    },
  };
  return provider;
}

/** Hours from an instant on, in the form of Locationforecast 2.0, complete. */
export function metNorwayBody(fromMs: number, hours: number, details: (hour: number) => Record<string, number>) {
  const utc = (ms: number): string => new Date(ms).toISOString().replace(".000Z", "Z");
  return {
    type: "Feature",
    geometry: { type: "Point", coordinates: [-9.4, 56.6, 2] },
    properties: {
      meta: { updated_at: utc(fromMs - 900_000), units: { air_temperature: "celsius", cloud_area_fraction_low: "%" } },
      timeseries: Array.from({ length: hours }, (_, i) => ({
        time: utc(fromMs + i * 3_600_000),
        data: {
          instant: { details: { air_pressure_at_sea_level: 1013.2, wind_speed: 4.1, ...details(i) } },
          next_1_hours: { summary: { symbol_code: "partlycloudy_day" }, details: { precipitation_amount: 0 } },
        },
      })),
    },
  };
}

/** The same in the form of Open-Meteo's forecast. */
export function openMeteoBody(
  fromMs: number,
  hours: number,
  column: (name: string, hour: number) => number | null,
): Record<string, unknown> {
  const names = ["temperature_2m", "relative_humidity_2m", "cloud_cover_low", "cloud_cover_mid", "cloud_cover_high"];
  const indices = Array.from({ length: hours }, (_, i) => i);
  return {
    latitude: 56.6,
    longitude: -9.4,
    generationtime_ms: 0.1,
    utc_offset_seconds: 0,
    timezone: "GMT",
    elevation: 2,
    hourly_units: { time: "unixtime", temperature_2m: "°C" },
    hourly: {
      time: indices.map((i) => fromMs / 1000 + i * 3600),
      ...Object.fromEntries(names.map((name) => [name, indices.map((i) => column(name, i))])),
    },
  };
}
