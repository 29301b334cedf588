import {
  apertureSeries,
  ev100FromIlluminance,
  isoSeries,
  type NominalMark,
  SCENE_EXPOSURES,
  type SeriesStep,
  SUNNY_16,
  shutterSeries,
} from "@fieldstop/core/exposure";
import { filterGrades } from "@fieldstop/core/filters";
import { sunIlluminanceLux } from "@fieldstop/core/sky";

export interface ReferenceColumn {
  readonly name: string;
  readonly description: string;
  readonly unit?: string;
}

export type ReferenceRow = Readonly<Record<string, string | number>>;

/** A table of the trade, with where it comes from. */
export interface ReferenceTable {
  readonly name: string;
  readonly title: string;
  readonly source: string;
  readonly columns: readonly ReferenceColumn[];
  readonly rows: readonly ReferenceRow[];
}

const STEPS: readonly SeriesStep[] = ["full", "half", "third"];

function seriesTable(
  name: string,
  title: string,
  unit: string | undefined,
  marksOf: (step: SeriesStep) => readonly NominalMark[],
): ReferenceTable {
  const withUnit = unit === undefined ? {} : { unit };
  return {
    name,
    title,
    source: "The usual markings of lenses and cameras: common practice; exact values by APEX (ASA PH2.5-1960)",
    columns: [
      { name: "step", description: "How finely the dial is divided: full, half or third" },
      { name: "nominal", description: "The mark as people write it" },
      { name: "nominalValue", description: "The mark as a number", ...withUnit },
      { name: "exact", description: "What the mark stands for", ...withUnit },
    ],
    rows: STEPS.flatMap((step) =>
      marksOf(step).map(({ text, value, exact }) => ({ step, nominal: text, nominalValue: value, exact })),
    ),
  };
}

const scenes: ReferenceTable = {
  name: "scene-exposure-values",
  title: "Usual light of kinds of scene",
  source:
    "ANSI PH2.7-1973 and PH2.7-1986, as collected in Wikipedia, Exposure value. In direct sun from two hours after sunrise to two before sunset with front light; side light 1, back light 2 EV less",
  columns: [
    { name: "category", description: "Kind of light" },
    { name: "scene", description: "Kind of scene" },
    { name: "lowEv100", description: "Darkest usual light", unit: "EV100" },
    { name: "highEv100", description: "Brightest usual light", unit: "EV100" },
  ],
  rows: SCENE_EXPOSURES.map(({ category, scene, ev100: [lowEv100, highEv100] }) => ({
    category,
    scene,
    lowEv100,
    highEv100,
  })),
};

const sunny16: ReferenceTable = {
  name: "sunny-16",
  title: "Aperture by the look of the shadows, at a shutter time of one over the ISO",
  source: "The sunny 16 rule: common practice",
  columns: [
    { name: "condition", description: "What sky and shadows look like" },
    { name: "aperture", description: "Marked aperture", unit: "f-number" },
  ],
  rows: SUNNY_16.map(({ condition, aperture }) => ({ condition, aperture })),
};

const grades: ReferenceTable = {
  name: "filter-grades",
  title: "Grades of neutral density filters: what is engraved and what it is",
  source:
    "Wikipedia, Neutral-density filter, for the powers of two and ND400, ND1000; others common practice; density by ISO 5-1:2009",
  columns: [
    { name: "grade", description: "As engraved" },
    { name: "factor", description: "How many times longer the exposure becomes" },
    { name: "stops", description: "Exactly", unit: "stops" },
    { name: "markedStops", description: "As sold", unit: "stops" },
    { name: "density", description: "Exactly" },
    { name: "markedDensity", description: "As engraved on filters marked by density" },
    { name: "transmittancePercent", description: "Light that comes through", unit: "%" },
  ],
  rows: filterGrades.map((grade) => ({ ...grade })),
};

/** Altitudes of the light table [deg]: each degree where the light changes fast, wider above. */
const ALTITUDES = [
  ...Array.from({ length: 29 }, (_, i) => i - 18),
  ...Array.from({ length: 16 }, (_, i) => 15 + 5 * i),
];

const light: ReferenceTable = {
  name: "light-by-sun-altitude",
  title: "Light on level ground under a clear sky, by the sun's altitude",
  source:
    "Explanatory Supplement to the Astronomical Almanac, 3rd ed. 2013, after Janiczek and DeYoung 1987 (USNO Circular 171); EV100 of a flat receptor by ISO 2720. Real clear skies stray by half a stop, and by a stop in twilight",
  columns: [
    { name: "altitudeDeg", description: "Airless altitude of the sun's centre", unit: "deg" },
    { name: "illuminanceLux", description: "On level ground, sun and sky together", unit: "lx" },
    { name: "ev100", description: "As an incident-light meter held level reads it", unit: "EV100" },
  ],
  rows: ALTITUDES.map((altitudeDeg) => {
    const illuminanceLux = sunIlluminanceLux(altitudeDeg);
    return { altitudeDeg, illuminanceLux, ev100: ev100FromIlluminance(illuminanceLux) };
  }),
};

const ALL: readonly ReferenceTable[] = [
  scenes,
  sunny16,
  seriesTable("aperture-series", "Apertures marked on lenses", "f-number", apertureSeries),
  seriesTable("shutter-series", "Shutter times marked on cameras", "s", shutterSeries),
  seriesTable("iso-series", "Speeds marked on cameras", undefined, isoSeries),
  grades,
  light,
];

/** The tables of the trade by name, in the order that they are listed. */
export const REFERENCE_TABLES: ReadonlyMap<string, ReferenceTable> = new Map(ALL.map((table) => [table.name, table]));
