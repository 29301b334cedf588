import { ServiceOutage } from "../forecast/forecast-source";

/** Whether the forecast service is to blame, so that asking again later may help. */
export function isOutage(error: unknown, stop: AbortSignal): boolean {
  return error instanceof ServiceOutage && !stop.aborted;
}
