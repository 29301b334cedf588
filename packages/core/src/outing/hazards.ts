import { type Caution, type CautionCode, caution } from "../notes";
import { tideCaution } from "../water/tide-caution";
import type { Temperature } from "./assumed-temperature";

/** The ground round the camera, as elevation data show it. */
export interface GroundAround {
  /** How far the nearest sea lies [m], as far as it was looked for; null where none was found. */
  readonly seaWithinM: number | null;
  /** The steepest slope within a short walk [deg]. */
  readonly steepestDeg: number;
  /** Whether the ground at the spot is flat. */
  readonly isFlat: boolean;
}

export interface HazardRequest {
  /** Present where elevation data tell it. */
  readonly ground: GroundAround | undefined;
  readonly elevationM: number;
  readonly hasTide: boolean;
  readonly darkOnTheWay: boolean;
  readonly temperature: Temperature;
}

// Our own choices, on the careful side; elevation data of 30 to 90 m show a cliff as a steep slope
const CLIFF_DEG = 28;
const SEA_NEAR_M = 400;
const ABOVE_SURF_M = 60;
/** Where no elevation data tell: ground as low as this may be by the sea. */
const MAY_BE_SHORE_M = 30;
const TIDAL_M = 5;
// Common practice: thin air is felt from about here
const THIN_AIR_M = 2500;
const COLD_C = 0;
const HEAT_C = 30;

/** What can hurt at this place: nothing unconditional but the sun through optics. */
export function hazardsOf(request: HazardRequest): Caution[] {
  const { ground, elevationM, temperature } = request;
  const codes: CautionCode[] = ["sun-through-optics"];
  const steep = ground !== undefined && ground.steepestDeg >= CLIFF_DEG;
  const sea = isBySea(request);
  if (request.darkOnTheWay) codes.push("dark-paths");
  if (sea && elevationM <= ABOVE_SURF_M) codes.push("tide-and-swell");
  if (steep) codes.push(sea ? "cliffs" : "steep-ground");
  if (sea && ground?.isFlat === true && elevationM <= TIDAL_M) codes.push("mud-flats");
  if (steep && sea) codes.push("wildlife");
  if (elevationM >= THIN_AIR_M) codes.push("thin-air");
  if (temperature.temperatureC <= COLD_C && temperature.isKnown) codes.push("cold-and-ice");
  if (temperature.temperatureC >= HEAT_C && temperature.isKnown) codes.push("heat");
  const cautions = codes.map(caution);
  return request.hasTide ? [...cautions.filter(({ code }) => code !== "tide-and-swell"), tideCaution()] : cautions;
}

function isBySea({ ground, elevationM, hasTide }: HazardRequest): boolean {
  if (hasTide) return true;
  if (ground !== undefined) return ground.seaWithinM !== null && ground.seaWithinM <= SEA_NEAR_M;
  return elevationM <= MAY_BE_SHORE_M;
}
