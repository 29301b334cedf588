import { type ExposureRequest, type ExposureSolution, solveExposureWith } from "./solve-with";
import { heldForVideo } from "./video-shutter";

/**
 * The exposure for a light: any two of aperture, shutter time and ISO give the third, through compensation and filters.
 * Each comes back exact and as the nearest mark of its series, with where it came from.
 * @param request light as `ev100` [EV100] -40 to 40, `luminanceCdPerM2` [cd/m²] or `illuminanceLux` [lx]; two of `aperture` [1] 0.1 to 1024,
 *   `shutterSeconds` [s] 1e-6 to 1e7, `iso` 1 to 1e7; `compensationStops` [stops] -15 to 15; `attenuationStops` [stops] 0 to 40
 *   `video` frame rate [1/s] and shutter angle [deg]
 * @returns the three settings, the light [EV100] and what the settings are exposed for [EV100]
 * @throws DomainError for values out of range, or not exactly two settings and one light; `impossible` where the third would be an
 *   aperture outside f/0.5 to f/256, an ISO outside 1 to 10,000,000 or a time outside 1 µs to 10,000,000 s
 * Source: ISO 2720:1974 and APEX: 2^EV100 = N²·100/(t·ISO). Accuracy: that of the machine on exact values; held by the golden rows
 * `evtime`, `sunny16` and `meter`, and by round trips in tests/core/exposure/solve.spec.ts.
 * @example solveExposure({ ev100: 15, aperture: 16, iso: 100 }).shutter.nominal // "1/125 s"
 */
export function solveExposure(request: ExposureRequest): ExposureSolution {
  return solveExposureWith({ heldForVideo }, request);
}
