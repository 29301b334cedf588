import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import type { SensorReading } from "./sensor";

/** How the photograph will be looked at. */
export interface Print {
  /** The longer side of the print [mm]. */
  readonly longSideMm: number;
  /** From the eye to the print [mm]; default: the diagonal of the print, and no nearer than 250 mm. */
  readonly viewingDistanceMm?: number;
}

/** What still counts as a point: said outright, from a print, or by the usual part of the diagonal. */
export interface SharpnessWanted {
  /** Largest blur on the sensor that still passes for a point [mm], 0.001 to 2. */
  readonly circleOfConfusionMm?: number;
  readonly print?: Print;
}

// Wikipedia "Circle of confusion": the usual tables divide the diagonal by 1500; 0.029 mm on full frame
const DIAGONALS_PER_CIRCLE = 1500;

// Wikipedia "Circle of confusion": 5 line pairs per mm seen at 25 cm, which is 0.2 mm on the print
const NORMAL_VIEWING_MM = 250;
const CIRCLE_ON_PRINT_AT_NORMAL_MM = 1 / 5;

// Between the wavelengths of light and the coarsest contact print
const LEAST_CIRCLE_MM = 0.001;
const MOST_CIRCLE_MM = 2;

/**
 * Compute the circle of confusion by the usual part of the diagonal: diagonal/1500.
 * @param diagonalMm diagonal of the sensor [mm], 1 to 2000
 * @returns [mm]
 * @throws DomainError outside that range
 * Source: Wikipedia "Circle of confusion"; a convention, common practice. Held by the golden rows `coc`.
 * @example circleOfConfusionOfDiagonal(43.27) // 0.0288
 */
export function circleOfConfusionOfDiagonal(diagonalMm: number): number {
  return requireInRange("diagonalMm", diagonalMm, 1, 2000, "mm") / DIAGONALS_PER_CIRCLE;
}

/**
 * Compute the blur on a print that still passes for a point: 0.2 mm at 25 cm, in proportion farther away.
 * @param viewingDistanceMm from the eye to the print [mm], 50 to 100,000
 * @returns [mm]
 * @throws DomainError outside that range
 * Source: Wikipedia "Circle of confusion", 5 line pairs per mm at 25 cm. Accuracy: eyes differ by a factor of two. Held by the golden rows `coc`.
 * @example circleOfConfusionOnPrint(500) // 0.4
 */
export function circleOfConfusionOnPrint(viewingDistanceMm: number): number {
  const distance = requireInRange("viewingDistanceMm", viewingDistanceMm, 50, 1e5, "mm");
  return (CIRCLE_ON_PRINT_AT_NORMAL_MM * distance) / NORMAL_VIEWING_MM;
}

/**
 * Compute the circle of confusion on a sensor, and what was assumed for it.
 * @param sensor its measures
 * @param wanted one said outright [mm], or a print with its long side [mm] 10 to 100,000; default: diagonal/1500
 * @param assumptions where the usual values are noted when they are taken
 * @returns [mm]
 * @throws DomainError out of range, or for both at once
 * Source: enlargement is the ratio of long sides; otherwise as above. Held by tests/core/optics/circle-of-confusion.spec.ts.
 * @example circleOfConfusionMm(readSensor("full-frame"), { print: { longSideMm: 360, viewingDistanceMm: 500 } }) // 0.04
 */
export function circleOfConfusionMm(
  sensor: SensorReading,
  wanted: SharpnessWanted,
  assumptions: Assumption[] = [],
): number {
  const { circleOfConfusionMm: outright, print } = wanted;
  if (outright !== undefined) {
    if (print !== undefined) {
      const allowed = "circleOfConfusionMm or print, not both";
      throw new DomainError({ param: "circleOfConfusionMm", given: outright, allowed });
    }
    return requireInRange("circleOfConfusionMm", outright, LEAST_CIRCLE_MM, MOST_CIRCLE_MM, "mm");
  }
  if (print === undefined) {
    const value = circleOfConfusionOfDiagonal(sensor.diagonalMm);
    assumptions.push({ field: "circleOfConfusionMm", value, why: "common practice: the diagonal divided by 1500" });
    return value;
  }
  const longSideMm = requireInRange("print.longSideMm", print.longSideMm, 10, 1e5, "mm");
  const enlargement = longSideMm / Math.max(sensor.widthMm, sensor.heightMm);
  let viewingDistanceMm = print.viewingDistanceMm;
  if (viewingDistanceMm === undefined) {
    viewingDistanceMm = Math.max(NORMAL_VIEWING_MM, enlargement * sensor.diagonalMm);
    const why = "common practice: as far as the print's diagonal, no nearer than 250 mm";
    assumptions.push({ field: "print.viewingDistanceMm", value: viewingDistanceMm, why });
  }
  requireInRange("print.viewingDistanceMm", viewingDistanceMm, 50, 1e6, "mm");
  const value = (CIRCLE_ON_PRINT_AT_NORMAL_MM * viewingDistanceMm) / NORMAL_VIEWING_MM / enlargement;
  if (value >= LEAST_CIRCLE_MM && value <= MOST_CIRCLE_MM) return value;
  const allowed = `a print and a distance that ask for ${LEAST_CIRCLE_MM} to ${MOST_CIRCLE_MM} mm on the sensor`;
  throw new DomainError({ code: "impossible", param: "print", given: value, allowed });
}
