import { attenuationFromStops, stopsAsMarked, stopsFromFactor } from "./attenuation";

/** A grade of neutral density filter as it is engraved, what it is exactly, and what it is sold as. */
export interface FilterGrade {
  /** As engraved: `ND1000`. */
  readonly grade: string;
  readonly factor: number;
  /** Exactly [stops]: 9.97 for an ND1000. */
  readonly stops: number;
  /** As sold [stops]: 10 for an ND1000. */
  readonly markedStops: number;
  /** Exactly [1]. */
  readonly density: number;
  /** As engraved on filters that are marked by density: 3. */
  readonly markedDensity: number;
  readonly transmittancePercent: number;
}

// Wikipedia "Neutral-density filter", table, for the powers of two and ND400, ND1000; the others are grades met in the trade: common practice
const ENGRAVED_FACTORS = [
  2, 4, 8, 16, 32, 64, 100, 128, 200, 256, 400, 500, 512, 1000, 1024, 2000, 2048, 4000, 4096, 8000, 8192, 10_000,
  16_000, 32_000, 100_000,
];

/**
 * The grades of neutral density filters met in the trade, palest first: exact attenuation beside what is engraved.
 * Source: see above the list. Held by the golden rows `nd`.
 */
export const filterGrades: readonly FilterGrade[] = Object.freeze(
  ENGRAVED_FACTORS.map((factor): FilterGrade => {
    const { stops, density, transmittancePercent } = attenuationFromStops(stopsFromFactor(factor));
    const markedDensity = Math.round(density * 10) / 10;
    const markedStops = stopsAsMarked(stops);
    return Object.freeze({
      grade: `ND${factor}`,
      factor,
      stops,
      markedStops,
      density,
      markedDensity,
      transmittancePercent,
    });
  }),
);
