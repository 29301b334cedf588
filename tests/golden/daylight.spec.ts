import {
  type AvailabilitySky,
  availableSkyLux,
  type CloudCover,
  clearBeamLux,
  cloudEffect,
  coverTransmittance,
  relativeAirMass,
  splitDaylight,
  TURBIDITY,
} from "@fieldstop/core/sky";
import { describe, expect, it } from "vitest";
import rows from "./daylight.json";

interface Row {
  readonly id: string;
  readonly group: string;
  readonly inputs: Readonly<Record<string, number | string>>;
  readonly expected: unknown;
  readonly tolerance: number | { readonly relative: number };
  readonly source: string;
}

const all = rows as unknown as readonly Row[];
const sin = (deg: number): number => Math.sin((deg * Math.PI) / 180);

/** The rows whose id begins so; their number is stated, so that none is dropped in silence. */
function starting(prefix: string, count: number): readonly (readonly [string, Row])[] {
  const found = all.filter(({ id }) => id.startsWith(prefix));
  if (found.length !== count) throw new Error(`${prefix}: ${found.length} rows, not ${count}`);
  return found.map((row) => [row.id, row]);
}

const one = (id: string): Row => {
  const row = all.find((candidate) => candidate.id === id);
  if (row === undefined) throw new Error(`no row ${id}`);
  return row;
};

function expectClose(actual: number, { expected, tolerance }: Row): void {
  const allowed = typeof tolerance === "number" ? tolerance : tolerance.relative * Math.abs(expected as number);
  expect(Math.abs(actual - (expected as number))).toBeLessThanOrEqual(allowed);
}

describe("golden rows of daylight", () => {
  it("are all here, each with a source", () => {
    const counts: Record<string, number> = {};
    for (const { group } of all) counts[group] = (counts[group] ?? 0) + 1;
    expect(counts).toEqual({ ky: 30, ies: 17, efficacy: 4, kc: 15, shapiro: 20, ineichen: 5 });
    expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
    for (const row of all) expect(row.source.length, row.id).toBeGreaterThan(5);
  });
});

describe("air mass", () => {
  it.each([
    ...starting("ky.formula.", 18),
    ...starting("ky.table.", 4),
    ...starting("ky.tablemem.", 5),
    ...starting("ky.pvlib.", 3),
  ])("%s", (_, row) => {
    const { apparentAltitudeDeg, apparentZenithDeg } = row.inputs as Record<string, number>;
    expectClose(relativeAirMass(apparentAltitudeDeg ?? 90 - (apparentZenithDeg as number)), row);
  });
});

describe("daylight availability", () => {
  const kindOf = (row: Row): AvailabilitySky => String(row.inputs["sky"]).replace(" ", "-") as AvailabilitySky;

  it.each(starting("ies.sky.", 12))("%s", (_, row) => {
    const altitude = row.inputs["sunAltitudeDeg"];
    if (altitude !== undefined) return expectClose(availableSkyLux(kindOf(row), Number(altitude)) / 1000, row);
    const [a, b, c] = row.expected as [number, number, number];
    for (const h of [0, 15, 45, 90]) {
      expect(availableSkyLux(kindOf(row), h) / 1000).toBeCloseTo(a + b * sin(h) ** c, 9);
    }
  });

  it("dims the beam of a clear sky at air mass 2 as its extinction coefficient does", () => {
    const coefficient = one("ies.c.clear").expected as number;
    // 127.5 klx outside the atmosphere is in the note of that row
    expect(-Math.log(clearBeamLux(29.91) / 127_500) / 2).toBeCloseTo(coefficient, 3);
  });

  it.each(starting("ies.direct.clear.", 4))("%s, or 6 % where the sun is low and its light red", (_, row) => {
    const altitude = Number(row.inputs["sunAltitudeDeg"]);
    const beamKlx = (clearBeamLux(altitude) * sin(altitude)) / 1000;
    expectClose(beamKlx, altitude < 20 ? { ...row, tolerance: { relative: 0.06 } } : row);
  });
});

describe("beam and sky against another model of the clear sky", () => {
  const efficacy = (id: string): number => one(id).expected as number;

  it.each(starting("ineichen.", 5))("%s: the share of the sky in the light", (_, row) => {
    const altitude = 90 - Number(row.inputs["apparentZenithDeg"]);
    const { dni, dhi } = row.expected as Record<"dni" | "dhi", number>;
    // Littlefair's efficacies turn its watts to lumens: the beam's climbs from 10° to 60° of altitude, the sky's stays
    const low = efficacy("efficacy.0");
    const high = efficacy("efficacy.1");
    const beam = low + ((high - low) * (Math.min(60, Math.max(10, altitude)) - 10)) / 50;
    const skyLux = dhi * efficacy("efficacy.4");
    const theirs = skyLux / (skyLux + dni * sin(altitude) * beam);
    const { diffuseLux, illuminanceLux } = splitDaylight(50_000, altitude);
    expect(Math.abs(diffuseLux / illuminanceLux / theirs - 1)).toBeLessThan(0.25);
  });

  it("has the efficacy of the beam implied by the usual turbidity within the printed range", () => {
    const [least, most] = one("efficacy.r0").expected as [number, number];
    const { dni } = one("ineichen.46.0467599").expected as { dni: number };
    const implied = clearBeamLux(90 - 46.0467599, TURBIDITY.usual) / dni;
    expect(implied).toBeGreaterThan(least * 0.9);
    expect(implied).toBeLessThan(most * 1.1);
  });
});

describe("cloud", () => {
  it.each(starting("kc.cloud.", 9))("%s", (_, row) => {
    const coverPercent = (Number(row.inputs["oktas"]) * 100) / 8;
    expectClose(coverTransmittance(coverPercent), row);
    expectClose(cloudEffect({ low: coverPercent, middle: 0, high: 0 }).transmittance, row);
  });

  const LEVEL_OF: Readonly<Record<string, keyof CloudCover>> = {
    "Cirrus, cirrostratus, cirrocumulus": "high",
    "Altocumulus, altostratus": "middle",
    Stratocumulus: "low",
    "Cumulus, cumulonimbus": "low",
    Stratus: "low",
    Nimbostratus: "low",
    "thin cirrus/cirrostratus": "high",
    "thick cirrus/cirrostratus": "high",
    "altostratus/altocumulus": "middle",
    "stratocumulus/stratus": "low",
    "cumulus/cumulonimbus": "low",
  };
  const overcast = (row: Row): number => {
    const level = LEVEL_OF[String(row.inputs["cloud"])];
    if (level === undefined) throw new Error(`${row.id}: no level`);
    return cloudEffect({ low: 0, middle: 0, high: 0, [level]: 100 }).transmittance;
  };

  it.each(starting("kc.type.", 6))("%s; rain-bearing and stratus within two thirds of a stop", (_, row) => {
    const value = overcast(row);
    if ((row.expected as number) < 0.2) {
      expect(Math.abs(Math.log2(value / (row.expected as number)))).toBeLessThan(2 / 3);
    } else expectClose(value, row);
  });

  it.each(starting("shapiro.", 20))("%s: within two thirds of a stop, three quarters for a low sun", (_, row) => {
    const allowed = Number(row.inputs["zenithAngleDeg"]) > 60 ? 0.75 : 0.68;
    expect(Math.abs(Math.log2(overcast(row) / (row.expected as number)))).toBeLessThan(allowed);
  });
});
