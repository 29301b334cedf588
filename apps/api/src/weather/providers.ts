import { metNorway } from "./met-norway";
import { openMeteo } from "./open-meteo";
import type { WeatherProvider } from "./weather-provider";

/** The providers that a service can be set to. */
export const WEATHER_PROVIDERS = {
  "met-norway": metNorway,
  "open-meteo": openMeteo,
} as const satisfies Record<string, WeatherProvider>;

export type WeatherProviderName = keyof typeof WEATHER_PROVIDERS;

export const WEATHER_PROVIDER_NAMES = Object.keys(WEATHER_PROVIDERS) as [WeatherProviderName, ...WeatherProviderName[]];
