import { type Forecast, getForecast } from "@fieldstop/sdk";
import type { Spot } from "../club";
import type { Origin } from "./evening";
import { type Kit, USUAL_FOCAL_LENGTH_MM } from "./kit";
import { keepingClient } from "./service";

export interface KnownForecast {
  readonly forecast: Forecast;
  readonly origin: Origin;
}

/** What the service forecasts for a spot and a day, or what it forecast when it was last reached. */
export async function loadForecast(spot: Spot, date: string, { sensor, aperture, iso }: Kit): Promise<KnownForecast> {
  let since: Date | undefined;
  const client = keepingClient((at) => {
    since = at;
  });
  const { latitude, longitude, name, elevationM, timeZone, part, cameraAzimuthDeg } = spot;
  const forecast = await getForecast({
    client,
    query: {
      latitude,
      longitude,
      name,
      date,
      session: part,
      sensor,
      aperture,
      iso,
      azimuthDeg: cameraAzimuthDeg,
      focalLengthMm: USUAL_FOCAL_LENGTH_MM,
      ...(elevationM === undefined ? {} : { elevationM }),
      ...(timeZone === undefined ? {} : { timeZone }),
    },
  });
  return { forecast, origin: since === undefined ? { kind: "service", at: new Date() } : { kind: "kept", at: since } };
}
