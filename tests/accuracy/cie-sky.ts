import { relativeSkyLuminance } from "@fieldstop/core/sky";
import rows from "../golden/sky.json";
import { summarise } from "./errors";
import type { Measure, Measurement } from "./measure";

interface WorkedRow {
  readonly id: string;
  readonly inputs: Readonly<Record<string, number>>;
  readonly expected: number;
}

/** Errors [%] of the relative luminance in each worked row of the general sky: type, direction and sun. */
function workedValues(): Measurement {
  const worked = (rows as unknown as readonly WorkedRow[]).filter(({ id }) => /^cie\.(L|doc\.type)/.test(id));
  return summarise(
    worked.map(({ inputs, expected }) => {
      const { type, ZDeg, ZsDeg, deltaAzimuthDeg, alphaDeg = 0, alphaSDeg = 0 } = inputs as Record<string, number>;
      const direction = { azimuthDeg: deltaAzimuthDeg ?? alphaDeg - alphaSDeg, altitudeDeg: 90 - (ZDeg as number) };
      const sun = { azimuthDeg: 0, altitudeDeg: 90 - (ZsDeg as number) };
      return 100 * (relativeSkyLuminance(type as number, direction, sun) / expected - 1);
    }),
  );
}

export const cieSkyMeasures: readonly Measure[] = [
  {
    id: "cie-sky",
    subject: "relative luminance of the general sky, all fifteen types",
    against: "worked values of CIE S 011/E:2003 (two of them by colour-science)",
    unit: "%",
    measure: workedValues,
  },
];
