import { asinDeg, RADIANS_PER_DEGREE, sinDeg } from "../angles";
import { requireInRange } from "../domain-error";
import { type CheckedSky, checkedSky } from "./checked-sky";
import { requireTurbidity, type SkyState, TURBIDITY } from "./sky-types";
import { SUN_SEMIDIAMETER_DEG } from "./sun";

/** Light of the sun or the moon as it reaches open ground, beam and sky apart. */
export interface Daylight {
  /** On level ground under the open sky [lx]: beam and sky together. */
  readonly illuminanceLux: number;
  /** The beam on a surface square to it [lx]. */
  readonly directNormalLux: number;
  /** The beam on level ground [lx]. */
  readonly directLux: number;
  /** The sky on level ground [lx]. */
  readonly diffuseLux: number;
}

export type AvailabilitySky = "clear" | "partly-cloudy" | "cloudy";

// IES 1984, Recommended Practice for the Calculation of Daylight Availability (J. IES 13:381), from memory:
// sky light A + B·sin^C(h) [lx]
const IES_SKY: Readonly<Record<AvailabilitySky, readonly [a: number, b: number, c: number]>> = {
  clear: [800, 15_500, 0.5],
  "partly-cloudy": [300, 45_000, 1],
  cloudy: [300, 21_000, 1],
};

// IES 1984, from memory: sunlight outside the atmosphere at the mean distance [lx]
const SUNLIGHT_OUTSIDE_LUX = 127_500;

// Of what haze takes out of the beam, the share that still reaches the ground as sky light: forward scattering 0.84 of
// it (Bird & Hulstrom 1981, SERI/TR-642-761), less about a tenth absorbed
const HAZE_TO_SKY = 0.75;

/**
 * Compute the sky light on level ground by daylight availability, the sun's beam left out.
 * @param sky clear, partly cloudy or cloudy
 * @param altitudeDeg apparent altitude of the sun [deg], -90 to 90; below 0 taken as 0
 * @returns [lx]
 * @throws DomainError outside that range
 * Source: IES 1984, coefficients from memory. Held by the golden rows `ies.sky`.
 * @example availableSkyLux("clear", 30) // 11760.2
 */
export function availableSkyLux(sky: AvailabilitySky, altitudeDeg: number): number {
  requireInRange("altitudeDeg", altitudeDeg, -90, 90, "deg");
  return skyLuxAt(IES_SKY[sky], Math.max(0, sinDeg(altitudeDeg)));
}

/** @param height sine of the altitude, 0 or more */
function skyLuxAt([a, b, c]: readonly [a: number, b: number, c: number], height: number): number {
  return a + b * height ** c;
}

/**
 * Compute the relative optical air mass toward a direction: how many times the air overhead its light passes through.
 * @param altitudeDeg apparent altitude [deg], -1 to 90; below -1 taken as -1
 * @returns [1], 1 at the zenith, 38 at the horizon
 * @throws DomainError for an altitude beyond -90 to 90
 * Source: Kasten & Young 1989, Applied Optics 28:4735, eq. 3. Accuracy: 0.5 % of their table; held by the golden rows
 * `ky`.
 * @example relativeAirMass(30) // 1.99429
 */
export function relativeAirMass(altitudeDeg: number): number {
  return airMass(requireInRange("altitudeDeg", altitudeDeg, -90, 90, "deg"));
}

function airMass(altitudeDeg: number): number {
  const altitude = Math.max(-1, altitudeDeg);
  return 1 / (sinDeg(altitude) + 0.50572 * (altitude + 6.07995) ** -1.6364);
}

/**
 * Compute the sunlight on a surface square to it under a cloudless sky, by air mass and turbidity.
 * @param altitudeDeg apparent altitude of the sun [deg], -90 to 90
 * @param turbidity luminous turbidity factor [1], 1 to 15; default 2.12, the clear sky of IES 1984
 * @returns [lx]; nothing once the disc is below the horizon
 * @throws DomainError outside those ranges
 * Source: E = E0·exp(−a·m·T) with a = 0.1/(1 + 0.0045 m) (Clear 1982; Navvab et al. 1984, from memory), E0 of IES 1984
 * (from memory). Where IES takes 0.21 for every air mass, this lets the low sun, whose light is red, lose less for
 * each. Held by the golden rows `ies.direct`.
 * @example clearBeamLux(30) // 83855
 */
export function clearBeamLux(altitudeDeg: number, turbidity: number = TURBIDITY.usual): number {
  const extinction = cleanExtinction(relativeAirMass(altitudeDeg));
  return beamLux(extinction, requireTurbidity(turbidity, "turbidity"), altitudeDeg);
}

function beamLux(extinction: number, turbidity: number, altitudeDeg: number): number {
  return SUNLIGHT_OUTSIDE_LUX * Math.exp(-extinction * turbidity) * discAbove(altitudeDeg);
}

/**
 * Split the illuminance of a clear sky into beam and sky, and lay haze and cloud over it.
 *
 * The total is not ours: it comes from the illuminance model for the altitude, and holds for a clear sky of usual
 * turbidity. Daylight availability gives the share of the beam in it. Haze then takes from the beam and gives three
 * quarters of that to the sky; cloud dims the whole and stops its share of the beam (see {@link cloudEffect}).
 * @param clearLux illuminance on level ground under a clear sky [lx], 0 or more
 * @param altitudeDeg apparent altitude of the sun or moon that it comes from [deg], -90 to 90
 * @param sky cloud and turbidity; clear where absent
 * @throws DomainError outside those ranges
 * Source: share of the beam as {@link clearBeamLux} against {@link availableSkyLux}. Accuracy: the share of the sky
 * within 25 % of the Ineichen & Perez clear-sky model turned to light by Littlefair's efficacies, held by
 * tests/golden/daylight.spec.ts; a real clear sky varies as much.
 * @example splitDaylight(51_321, 30) // { illuminanceLux: 51321, directNormalLux: 80158, directLux: 40079, diffuseLux:
 * 11242 }
 */
export function splitDaylight(clearLux: number, altitudeDeg: number, sky: SkyState = {}): Daylight {
  requireInRange("clearLux", clearLux, 0, 1e6, "lx");
  requireInRange("altitudeDeg", altitudeDeg, -90, 90, "deg");
  return daylightUnder(checkedSky(sky), clearLux, altitudeDeg);
}

/** {@link splitDaylight} under a sky that was checked, for values in range. */
export function daylightUnder(sky: CheckedSky, clearLux: number, altitudeDeg: number): Daylight {
  const { turbidity, transmittance, directTransmittance } = sky;
  const height = Math.max(0, sinDeg(altitudeDeg));
  const extinction = cleanExtinction(airMass(altitudeDeg));
  const modelBeam = beamLux(extinction, TURBIDITY.usual, altitudeDeg);
  const usualBeam = (clearLux * modelBeam) / (modelBeam * height + skyLuxAt(IES_SKY.clear, height));
  const haze = Math.exp(-extinction * (turbidity - TURBIDITY.usual));
  const beam = usualBeam * haze;
  const clearDiffuse = clearLux - usualBeam * height + HAZE_TO_SKY * (usualBeam - beam) * height;

  const directNormalLux = beam * directTransmittance;
  const directLux = directNormalLux * height;
  // under cloud the beam's share never outgrows the total, since each level dims the beam at least as much as the whole
  const illuminanceLux = (beam * height + clearDiffuse) * transmittance;
  return { illuminanceLux, directNormalLux, directLux, diffuseLux: illuminanceLux - directLux };
}

/** Optical depth of a clean, dry atmosphere along air mass m. */
function cleanExtinction(m: number): number {
  return (0.1 * m) / (1 + 0.0045 * m);
}

/** Share of the disc above the astronomical horizon: the area of a circle cut by a line. */
function discAbove(altitudeDeg: number): number {
  const x = Math.max(-1, Math.min(1, altitudeDeg / SUN_SEMIDIAMETER_DEG));
  return 0.5 + (asinDeg(x) * RADIANS_PER_DEGREE + x * Math.sqrt(1 - x * x)) / Math.PI;
}
