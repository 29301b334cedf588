import { type Caution, caution } from "../notes";

/** Make the caution that goes with every prediction of the tide. */
export function tideCaution(): Caution {
  const { code } = caution("tide-and-swell");
  return {
    code,
    text: "Tide predictions are not for navigation. Wind, air pressure and swell add to them, and a shore some way from the station has a tide of its own: read the local tide tables and warnings, and leave time to get back.",
  };
}
