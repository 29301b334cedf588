import { moonIlluminanceLux, sunIlluminanceLux } from "@fieldstop/core/sky";
import light from "../golden/light.json";
import { summarise } from "./errors";
import type { Measure } from "./measure";

/** Errors [stops] against the polynomials printed in the golden rows, each 0.05° of their range. */
function againstPrinted(prefix: string, illuminance: (altitudeDeg: number) => number): number[] {
  const errors: number[] = [];
  for (const row of light as readonly { id: string; inputs: unknown; expected: unknown }[]) {
    if (!row.id.startsWith(prefix)) continue;
    const [from, to] = (row.inputs as { altitudeRangeDeg: [number, number] }).altitudeRangeDeg;
    const [a, b, c, d] = row.expected as [number, number, number, number];
    for (let altitude = from; altitude < to; altitude += 0.05) {
      const x = altitude / 90;
      errors.push(Math.log2(illuminance(altitude)) - Math.log2(10) * (a + x * (b + x * (c + x * d))));
    }
  }
  return errors;
}

export const illuminanceMeasures: readonly Measure[] = [
  {
    id: "sunlight",
    subject: "illuminance by the sun, clear sky, -18° to 90°",
    against: "Explanatory Supplement 2013, printed polynomials",
    unit: "stops",
    measure: () => summarise(againstPrinted("es.sun.coef", sunIlluminanceLux)),
  },
  {
    id: "moonlight",
    subject: "illuminance by the full moon, clear sky, -0.8° to 90°",
    against: "Explanatory Supplement 2013, printed polynomials",
    unit: "stops",
    measure: () => summarise(againstPrinted("es.moon.coef", (altitude) => moonIlluminanceLux(altitude, 0))),
  },
];
