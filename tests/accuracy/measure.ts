import { cieSkyMeasures } from "./cie-sky";
import { dayEventMeasures } from "./day-events";
import { directLightMeasures } from "./direct-light";
import { horizonMeasures } from "./horizon";
import { illuminanceMeasures } from "./illuminance";
import { moonMeasures } from "./moon";
import { polarizationMeasures } from "./polarization";
import { skyBrightnessMeasures } from "./sky-brightness";
import { sunMeasures } from "./sun";
import { tideMeasures } from "./tides";

/** How far a subject is from what it is held against. */
export interface Measurement {
  /** Root of the mean square of the errors. */
  readonly rms: number;
  readonly max: number;
  readonly samples: number;
}

/** One line of the accuracy table. A part that is held to an accuracy adds its measures to the list below and its limits to tolerances.ts. */
export interface Measure {
  readonly id: string;
  /** What is measured, over which range. */
  readonly subject: string;
  readonly against: string;
  readonly unit: string;
  readonly measure: () => Measurement;
}

export const measures: readonly Measure[] = [
  ...sunMeasures,
  ...moonMeasures,
  ...dayEventMeasures,
  ...horizonMeasures,
  ...directLightMeasures,
  ...illuminanceMeasures,
  ...skyBrightnessMeasures,
  ...cieSkyMeasures,
  ...tideMeasures,
  ...polarizationMeasures,
];
