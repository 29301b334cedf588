import { maximumPolarization, type SkyState } from "@fieldstop/core/sky";
import { summarise } from "./errors";
import type { Measure } from "./measure";

interface PublishedMaximum {
  readonly sky: SkyState;
  /** Degree of polarization at 90° from the sun, or the range that is given. */
  readonly published: readonly [number, number];
  readonly source: string;
}

// Optical depths of aerosol at 450 nm were brought to 555 nm by an Ångström exponent of 1.3, and to turbidity by the
// 0.1 that a clean atmosphere takes out.
const MAXIMA: readonly PublishedMaximum[] = [
  {
    sky: { turbidity: 1.4 },
    published: [0.7, 0.7],
    source:
      '"Measuring the influence of aerosols and albedo on sky polarization", abstract: optical depth 0.05, 450 nm',
  },
  {
    sky: { turbidity: 4.8 },
    published: [0.4, 0.4],
    source: "the same: optical depth 0.5",
  },
  {
    sky: { turbidity: 1.2 },
    published: [0.7, 0.85],
    source: "Dahlberg, Pust & Shaw 2011, Optics Express 19:16008, abstract: Mauna Loa, by the brightness of the ground",
  },
  {
    sky: { turbidity: 1.5 },
    published: [0.8, 0.8],
    source: 'Wikipedia "Rayleigh sky model": near 80 % are typically reached',
  },
  {
    sky: {},
    published: [0.7, 0.85],
    source: "clear, sea level, visible: Coulson 1988; Horváth & Varjú 2004; Lee 1998 (from memory)",
  },
  {
    sky: { turbidity: 6 },
    published: [0.4, 0.5],
    source: "hazy; the same (from memory)",
  },
  {
    sky: { cloudCover: { low: 100, middle: 100, high: 0 } },
    published: [0, 0.1],
    source: "overcast; the literature of atmospheric optics (from memory)",
  },
];

export const polarizationMeasures: readonly Measure[] = [
  {
    id: "polarization",
    subject: "degree of polarization a quarter turn from the sun, from very clear to overcast",
    against: "published maxima",
    unit: "1",
    measure: () =>
      summarise(
        MAXIMA.map(({ sky, published: [low, high] }) => {
          const degree = maximumPolarization(sky);
          return Math.max(0, low - degree, degree - high);
        }),
      ),
  },
];
