import { type ExposureRequest, type Filter, solveExposure as solve } from "@fieldstop/core";
import { rounded } from "../rounding";
import { throughFilters } from "./through-filters";

/** The light, two settings, and what is on the lens. */
export interface ExposureAsked extends Omit<ExposureRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The third of aperture, shutter time and ISO. */
export function solveExposure({ filters, ...exposure }: ExposureAsked) {
  const { answer, assumptions, cautions } = throughFilters(filters, (attenuationStops) =>
    solve({ ...exposure, attenuationStops }),
  );
  return rounded({ ...answer, assumptions: [...assumptions, ...answer.assumptions], cautions });
}
