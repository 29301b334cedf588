import { tideErrors } from "../golden/tide-errors";
import { summarise } from "./errors";
import type { Measure } from "./measure";

const against = "NOAA CO-OPS tables, whole minutes and hundredths of a foot";

const errors = await tideErrors();

export const tideMeasures: readonly Measure[] = [
  {
    id: "tide-times",
    subject: "high and low water at six stations, when",
    against,
    unit: "min",
    measure: () => summarise(errors.map(({ minutes }) => minutes)),
  },
  {
    id: "tide-heights",
    subject: "high and low water at six stations, how high",
    against,
    unit: "m",
    measure: () => summarise(errors.map(({ metres }) => metres)),
  },
];
