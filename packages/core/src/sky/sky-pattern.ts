import { cosDeg, sinDeg } from "../angles";
import { type CheckedSky, checkedSky } from "./checked-sky";
import { type CieSky, type CieSkyType, cieSky, gradation, indicatrix } from "./cie-sky";
import { type SkyField, type SkyPoint, type SkyState, skyField } from "./sky-types";

interface Rung {
  /** Overcastness that the rung stands for, 0 to 1. */
  readonly at: number;
  /** Types to mix, each with its share; with the sun well up, and with it on the horizon. */
  readonly high: readonly (readonly [CieSkyType, share: number])[];
  readonly low: CieSkyType;
}

// Typical luminous turbidity of the clear types (Kittler, Darula & Perez 1998, A set of standard skies, from memory):
// type 12 at 2.5, 13 at 4.5, 14 a little above. Between them the skies are mixed.
const CLEAR_TYPES: readonly (readonly [turbidity: number, CieSkyType])[] = [
  [2.5, 12],
  [4.5, 13],
  [6, 14],
];

// Our own choice, down the diagonal of the standard's table: as cloud takes the beam, the gradation goes from bright
// horizon to bright zenith and the corona fades. With the sun on the horizon, whose beam is spent, each takes the
// partner with a hidden sun.
const CLOUD_RUNGS: readonly Rung[] = [
  { at: 0.25, high: [[10, 1]], low: 9 },
  { at: 0.5, high: [[7, 1]], low: 6 },
  { at: 0.75, high: [[4, 1]], low: 4 },
  { at: 1, high: [[1, 1]], low: 1 },
];
const LOW_SUN_CLEAR_TYPE: CieSkyType = 9;

// The standard is for a sun that is up. Held against single scattering in a spherical atmosphere
// (tests/core/sky/twilight-scattering.ts): the corona gives way from about 4° down, and below the horizon the side
// toward the sun gains exp(0.18) on the mean for each degree to −6°.
const CORONA_FADES_BELOW_DEG = 4;
const ARCH_PER_DEG = 0.18;
const ARCH_FULL_AT_DEG = -6;

interface Part {
  readonly sky: CieSky;
  readonly scale: number;
  readonly arch: number;
}

/**
 * Compute how the light of one body, sun or moon, spreads over the sky.
 *
 * The shape is a mixture of standard skies: type 12 when clear, 13 and 14 as the air grows turbid, then types 10, 7, 4
 * and 1 as cloud takes a quarter, half, three quarters and all of the beam. From 4° down to the horizon the corona
 * fades (clear: to type 9). Below the horizon the body is held on it and the side toward it brightens, as the twilight
 * arch does.
 * @param body apparent azimuth and altitude of the sun or moon [deg]
 * @param sky cloud and turbidity; clear where absent
 * @returns luminance for each lux of diffuse illuminance on level ground [1/sr], by direction
 * @throws DomainError for a sky out of range
 * Source: ISO 15469:2004 for the types; their choice and the twilight are ours. Accuracy: the integral over the sky is
 * within 0.5 % of 1; below the horizon within a stop, both held by tests/core/sky/luminance.spec.ts.
 */
export function skyPattern(body: SkyPoint, sky: SkyState = {}): SkyField {
  return patternUnder(checkedSky(sky), body);
}

/** {@link skyPattern} under a sky that was checked. */
export function patternUnder(sky: CheckedSky, body: SkyPoint): SkyField {
  const altitude = Math.max(ARCH_FULL_AT_DEG, Math.min(90, body.altitudeDeg));
  const parts = partsOf(altitude, sky);
  const sinBody = sinDeg(Math.max(0, altitude));
  const cosBody = cosDeg(Math.max(0, altitude));
  const bodyEast = sinDeg(body.azimuthDeg);
  const bodyNorth = cosDeg(body.azimuthDeg);
  return skyField((east, north, up) => {
    const sinAltitude = Math.max(0, up);
    // a direction below the horizon is brought up to it
    const onto = up < 0 ? 1 / Math.max(1e-9, Math.sqrt(east * east + north * north)) : 1;
    const toward = (east * bodyEast + north * bodyNorth) * onto;
    const cosFromBody = sinAltitude * sinBody + cosBody * toward;
    let sum = 0;
    for (const { sky: type, scale, arch } of parts) {
      const value = scale * indicatrix(type, cosFromBody) * gradation(type, sinAltitude);
      sum += arch === 0 ? value : value * Math.exp(arch * toward);
    }
    return sum;
  });
}

function partsOf(altitude: number, { overcastness, turbidity }: CheckedSky): Part[] {
  const clear: Rung = { at: 0, high: mixOnScale(CLEAR_TYPES, turbidity), low: LOW_SUN_CLEAR_TYPE };
  const rungs = [clear, ...CLOUD_RUNGS].map((rung) => [rung.at, rung] as const);
  const lowShare = Math.max(0, Math.min(1, 1 - altitude / CORONA_FADES_BELOW_DEG));
  const parts: Part[] = [];
  const add = (type: CieSkyType, share: number, rung: Rung): void => {
    if (share === 0) return;
    const archShare = 1 - rung.at;
    parts.push({
      sky: cieSky(type),
      scale: share / skyIntegral(type, altitude, archShare),
      arch: archStrength(altitude, archShare),
    });
  };
  for (const [rung, share] of mixOnScale(rungs, overcastness)) {
    for (const [type, part] of rung.high) add(type, share * part * (1 - lowShare), rung);
    add(rung.low, share * lowShare, rung);
  }
  return parts;
}

function archStrength(altitude: number, share: number): number {
  return share * ARCH_PER_DEG * Math.max(0, -altitude);
}

/** The neighbours of `x` on a scale, with the share of each; the ends hold beyond themselves. */
function mixOnScale<T>(scale: readonly (readonly [number, T])[], x: number): (readonly [T, share: number])[] {
  const above = scale.findIndex(([at]) => at >= x);
  const [, last] = scale[scale.length - 1] as readonly [number, T];
  if (above < 0) return [[last, 1]];
  const [upperAt, upper] = scale[above] as readonly [number, T];
  if (above === 0) return [[upper, 1]];
  const [lowerAt, lower] = scale[above - 1] as readonly [number, T];
  const share = (x - lowerAt) / (upperAt - lowerAt);
  return share === 1
    ? [[upper, 1]]
    : [
        [lower, 1 - share],
        [upper, share],
      ];
}

// Nodes by the body's altitude, each 3° above the horizon and each degree below it, made when first asked for:
// at most 37 for each type and share of arch
const NODE_STEP_DEG = 3;
const nodes = new Map<number, number>();

/**
 * ∫ f·φ·arch·sin γ dΩ over the sky, for a body at an altitude; straight in its logarithm between nodes, which costs 0.1
 * %.
 */
function skyIntegral(type: CieSkyType, altitude: number, archShare: number): number {
  const place = altitude < 0 ? altitude : altitude / NODE_STEP_DEG;
  const below = Math.floor(place);
  const lower = integralNode(type, below, archShare);
  const fraction = place - below;
  return fraction === 0 ? lower : lower ** (1 - fraction) * integralNode(type, below + 1, archShare) ** fraction;
}

function integralNode(type: CieSkyType, node: number, archShare: number): number {
  // the arch is there below the horizon only; its shares are whole quarters
  const quarters = node < 0 ? Math.round(archShare * 4) : 0;
  const key = (type * 64 + node + 8) * 8 + quarters;
  let value = nodes.get(key);
  if (value === undefined) {
    value = integrate(cieSky(type), Math.max(0, node) * NODE_STEP_DEG, archStrength(node, quarters / 4));
    nodes.set(key, value);
  }
  return value;
}

// Rings of altitude and steps of azimuth that stay within 0.3 % of a grid ten times as fine, whatever the type
const RINGS = 48;
const STEPS = 32;

function integrate(sky: CieSky, bodyAltitude: number, arch: number): number {
  const sinBody = sinDeg(bodyAltitude);
  const cosBody = cosDeg(bodyAltitude);
  let sum = 0;
  for (let i = 0; i < RINGS; i++) {
    const altitude = ((i + 0.5) * 90) / RINGS;
    const sinAltitude = sinDeg(altitude);
    const cosAltitude = cosDeg(altitude);
    const weight = sinAltitude * cosAltitude * gradation(sky, sinAltitude);
    for (let j = 0; j < STEPS; j++) {
      // azimuths crowd toward the body, where the sky is steep
      const v = (j + 0.5) / STEPS;
      const toward = cosAltitude * Math.cos(Math.PI * v * v);
      const value = indicatrix(sky, sinAltitude * sinBody + cosBody * toward) * Math.exp(arch * toward);
      sum += weight * value * 2 * v;
    }
  }
  return (sum * Math.PI * Math.PI) / (RINGS * STEPS);
}
