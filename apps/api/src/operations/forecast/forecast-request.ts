import { DomainError } from "@fieldstop/core";
import type { z } from "@hono/zod-openapi";
import type { ForecastQuery, ForecastRequest } from "./forecast.schema";

type Query = Omit<z.output<typeof ForecastQuery>, "lang">;

/** The forecast that a flat query asks for. */
export function forecastRequestOf(query: Query): z.output<typeof ForecastRequest> {
  const { latitude, longitude, name, elevationM, eyeHeightM, timeZone } = query;
  const { sensor, focalLengthMm, aperture, iso, azimuthDeg, pitchDeg, facingAzimuthDeg, slopeDeg } = query;
  const { date, session, horizon, tideStation, temperatureC, relativeHumidity } = query;
  if (slopeDeg !== undefined && facingAzimuthDeg === undefined) {
    throw new DomainError({ param: "slopeDeg", given: slopeDeg, allowed: "only together with facingAzimuthDeg" });
  }
  const cloudCover = cloudCoverOf(query);
  return {
    place: { name, latitude, longitude, elevationM, eyeHeightM, timeZone },
    date,
    session,
    camera: { sensor, focalLengthMm, aperture, iso, azimuthDeg, pitchDeg },
    ...(facingAzimuthDeg === undefined ? {} : { subject: { facingAzimuthDeg, slopeDeg } }),
    ...(cloudCover === undefined && temperatureC === undefined && relativeHumidity === undefined
      ? {}
      : { sky: { cloudCover, temperatureC, relativeHumidity } }),
    ...(horizon === undefined ? {} : { horizon: { kind: horizon } }),
    tideStation,
  };
}

/** Whoever names one level of cloud says of the others that they are not there. */
function cloudCoverOf({ cloudLow, cloudMiddle, cloudHigh }: Query) {
  if (cloudLow === undefined && cloudMiddle === undefined && cloudHigh === undefined) return undefined;
  return { low: cloudLow ?? 0, middle: cloudMiddle ?? 0, high: cloudHigh ?? 0 };
}
