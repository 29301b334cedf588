import { type ExposureRequest as CoreExposureRequest, solveExposure as solve } from "@fieldstop/core/exposure";
import type { Filter } from "@fieldstop/core/filters";
import { rounded } from "../rounding";
import { throughFilters } from "./through-filters";

/** The light, two settings, and what is on the lens. */
export interface ExposureRequest extends Omit<CoreExposureRequest, "attenuationStops"> {
  readonly filters?: readonly Filter[] | undefined;
}

/** The third of aperture, shutter time and ISO. */
export function solveExposure({ filters, ...exposure }: ExposureRequest) {
  const { answer, assumptions, cautions } = throughFilters(filters, (attenuationStops) =>
    solve(Object.assign(exposure, { attenuationStops })),
  );
  return rounded(Object.assign(answer, { assumptions: [...assumptions, ...answer.assumptions], cautions }));
}
