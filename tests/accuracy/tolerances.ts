/** What a measure must stay within, and why it may be that far off. */
export interface Tolerance {
  readonly rms?: number;
  readonly max: number;
  /** How many samples there must be, so that none is dropped in silence. */
  readonly samples: number;
  readonly reason: string;
}

/** Just above what is achieved, so that a change for the worse shows. */
export const tolerances: Readonly<Record<string, Tolerance>> = {
  sun: { rms: 0.0002, max: 0.0006, samples: 3000, reason: "terms under 0.4″ are left out of the earth's orbit" },
  "sun-other-years": { rms: 0.0003, max: 0.0007, samples: 1000, reason: "as above; slow terms are lines here" },
  "sun-timeline": { rms: 0.0002, max: 0.0006, samples: 1460, reason: "as the sun: the track adds nothing" },
  moon: { rms: 0.001, max: 0.005, samples: 2000, reason: "the table of Meeus is good to 10″" },
  "moon-other-years": { rms: 0.001, max: 0.005, samples: 1000, reason: "the table of Meeus is good to 10″" },
  "moon-timeline": { rms: 0.0012, max: 0.005, samples: 1460, reason: "as the moon: the track adds nothing" },
  "moon-distance": {
    rms: 13,
    max: 30,
    samples: 500,
    reason: "the table of Meeus leaves out terms under 1 km and sums 46",
  },
  "moon-fraction": { max: 0.0001, samples: 500, reason: "light time and aberration, which the two place differently" },
  "moon-phases": { rms: 30, max: 60, samples: 28, reason: "printed in whole minutes; 10″ of the moon are 20 s" },
  "sunrise-sunset": { rms: 0.1, max: 0.5, samples: 300, reason: "0.0004° of the sun over its slope" },
  twilight: { rms: 0.1, max: 0.5, samples: 590, reason: "0.0004° of the sun over its slope" },
  "grazing-days": { max: 0, samples: 200, reason: "an event that is missing or invented is wrong, however near" },
  "moonrise-moonset": { rms: 0.5, max: 2, samples: 197, reason: "0.004° of the moon over its slope" },
  "solar-noon": { rms: 0.1, max: 0.3, samples: 60, reason: "0.0004° of the sun at 15° an hour" },
  "horizon-known": { max: 0.000001, samples: 72, reason: "rounding of closed forms over straight chords" },
  "horizon-hills": { max: 0.0005, samples: 48, reason: "straight chords of 300 m and more stand for the geodesic" },
  "direct-light-edges": {
    rms: 0.1,
    max: 0.8,
    samples: 989,
    reason: "between two samples the scan cannot see a node of the skyline; roots are good to 0.02 s",
  },
  sunlight: { max: 0.02, samples: 2163, reason: "the printed pieces are led into each other over a degree" },
  moonlight: { max: 0.03, samples: 1818, reason: "the printed pieces are led into each other over a degree" },
  "scene-ev": {
    rms: 0.3,
    max: 0.7,
    samples: 19,
    reason: "the guide is printed in whole stops, for circumstances it only names",
  },
  "cie-sky": { max: 0.001, samples: 122, reason: "worked values are given to six digits" },
  "twilight-sky": { rms: 0.25, max: 0.65, samples: 72, reason: "two parameters stand for the whole of twilight" },
  "sky-integral": { rms: 0.1, max: 0.3, samples: 108, reason: "integrals are kept at nodes and read between them" },
  "tide-times": {
    rms: 1.2,
    max: 6,
    samples: 94,
    reason: "whole minutes; one low water of a subordinate station is off by 5.5",
  },
  "tide-heights": {
    rms: 0.01,
    max: 0.035,
    samples: 94,
    reason: "3 cm where the tide is of 4 m, 0.7 cm elsewhere but for one",
  },
  polarization: {
    rms: 0.06,
    max: 0.09,
    samples: 7,
    reason: "one factor stands for all haze; two of the maxima were measured in blue, over bright ground too",
  },
};
