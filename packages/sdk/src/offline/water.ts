import { needsService } from "./needs-service.js";

/** Refused: the service has the tide stations. */
export function listTideStations(): Promise<never> {
  return needsService("/v1/tide-stations", "the service has the tide stations");
}

/** Refused: the service has the tide stations. */
export function predictTides(): Promise<never> {
  return needsService("/v1/tides", "the service has the tide stations");
}
