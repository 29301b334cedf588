import { needsService } from "./needs-service.js";

/** Refused: the service has the elevation data. */
export function getHorizon(): Promise<never> {
  return needsService("/v1/horizon", "the service has the elevation data");
}

/** Refused: the service has the elevation data. */
export function drawHorizon(): Promise<never> {
  return needsService("/v1/horizon.svg", "the service has the elevation data");
}
