/**
 * A twilight sky from first principles, as an independent check on its shape: sunlight scattered once in a spherical
 * atmosphere of air, haze and ozone, with light scattered again added as an even glow of the local mean. No refraction.
 * Good to a factor of about 1.5 down to 6° below the horizon.
 */
const DEG = Math.PI / 180;
const EARTH_KM = 6371;
const TOP_KM = 80;

// Three wavelengths weighted by the eye: 500, 555 and 610 nm.
// Rayleigh optical depth 0.0973 at 550 nm (Bucholtz 1995), Chappuis band of 300 DU of ozone, haze 0.1 with an Ångström
// exponent of 1.2
const BANDS = [
  { weight: 0.162, air: 0.0973 * (550 / 500) ** 4.08, haze: 0.1 * (550 / 500) ** 1.2, ozone: 0.011 },
  { weight: 0.541, air: 0.0973 * (550 / 555) ** 4.08, haze: 0.1 * (550 / 555) ** 1.2, ozone: 0.03 },
  { weight: 0.297, air: 0.0973 * (550 / 610) ** 4.08, haze: 0.1 * (550 / 610) ** 1.2, ozone: 0.042 },
] as const;
const HAZE_ASYMMETRY = 0.72;
const HAZE_ALBEDO = 0.95;

// Densities by height, each with a column of 1 from the ground up
const airAt = (km: number): number => Math.exp(-km / 8) / 8;
const hazeAt = (km: number): number => Math.exp(-km / 1.2) / 1.2;
const ozoneAt = (km: number): number => Math.exp(-0.5 * ((km - 22) / 5) ** 2) / (5 * Math.sqrt(2 * Math.PI));

const airPhase = (cos: number): number => (3 / (16 * Math.PI)) * (1 + cos * cos);
const hazePhase = (cos: number): number =>
  (1 - HAZE_ASYMMETRY ** 2) / (4 * Math.PI * (1 + HAZE_ASYMMETRY ** 2 - 2 * HAZE_ASYMMETRY * cos) ** 1.5);

type Columns = readonly [air: number, haze: number, ozone: number];

const HEIGHT_STEP = 0.5;
const ALTITUDE_STEP = 0.25;
const LOWEST = -14;
const table = new Map<number, Columns>();

/**
 * What lies between a point and the sun, by the point's height and the sun's altitude there; dark where the earth is in
 * the way.
 */
function columnsToSun(km: number, altitude: number): Columns | undefined {
  const i = Math.round(km / HEIGHT_STEP);
  const j = Math.round((altitude - LOWEST) / ALTITUDE_STEP);
  const key = i * 1000 + j;
  let columns = table.get(key);
  if (columns === undefined) {
    columns = marchToSun(i * HEIGHT_STEP, LOWEST + j * ALTITUDE_STEP) ?? [1e9, 1e9, 1e9];
    table.set(key, columns);
  }
  return columns[0] === 1e9 ? undefined : columns;
}

function marchToSun(km: number, altitude: number): Columns | undefined {
  const radius = EARTH_KM + km;
  const sin = Math.sin(altitude * DEG);
  const nearest = altitude < 0 ? radius * Math.cos(altitude * DEG) : radius;
  if (nearest < EARTH_KM - 0.5) return undefined;
  const length = -radius * sin + Math.sqrt((EARTH_KM + TOP_KM) ** 2 - radius * radius * (1 - sin * sin));
  const steps = 200;
  const sum: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < steps; i++) {
    const t = ((i + 0.5) / steps) * length;
    const height = Math.max(0, Math.sqrt(radius * radius + t * t + 2 * radius * t * sin) - EARTH_KM);
    sum[0] += (airAt(height) * length) / steps;
    sum[1] += (hazeAt(height) * length) / steps;
    sum[2] += (ozoneAt(height) * length) / steps;
  }
  return sum;
}

/**
 * Light from a direction for sunlight of 1 outside the atmosphere; `glow` is what is scattered again, by the sun's
 * local altitude.
 */
function lookAt(
  fromSunDeg: number,
  altitude: number,
  sunAltitude: number,
  glow: (sunAltitude: number) => number,
): number {
  const view = [Math.cos(altitude * DEG) * Math.cos(fromSunDeg * DEG), Math.sin(altitude * DEG)] as const;
  const sun = [Math.cos(sunAltitude * DEG), Math.sin(sunAltitude * DEG)] as const;
  const cos = view[0] * sun[0] + view[1] * sun[1];
  const length = -EARTH_KM * view[1] + Math.sqrt((EARTH_KM + TOP_KM) ** 2 - EARTH_KM ** 2 * (1 - view[1] ** 2));
  const steps = 120;
  const depth = [0, 0, 0];
  let light = 0;
  for (let i = 0; i < steps; i++) {
    // short steps near the eye, where the air is thick
    const u = (i + 0.5) / steps;
    const t = u * u * length;
    const step = (2 * u * length) / steps;
    const radius = Math.sqrt(EARTH_KM ** 2 + t * t + 2 * EARTH_KM * t * view[1]);
    const height = radius - EARTH_KM;
    const toSun = (cos * t + EARTH_KM * sun[1]) / radius;
    const localSun = Math.asin(Math.max(-1, Math.min(1, toSun))) / DEG;
    const columns = columnsToSun(height, localSun);
    const again = glow(localSun);
    BANDS.forEach((band, k) => {
      const air = band.air * airAt(height);
      const haze = band.haze * hazeAt(height);
      const dim = (air + haze + band.ozone * ozoneAt(height)) * step;
      const seen = Math.exp(-((depth[k] as number) + dim / 2));
      depth[k] = (depth[k] as number) + dim;
      const sunlit =
        columns === undefined
          ? 0
          : Math.exp(-(band.air * columns[0] + band.haze * columns[1] + band.ozone * columns[2]));
      const once = sunlit * (air * airPhase(cos) + HAZE_ALBEDO * haze * hazePhase(cos));
      light += band.weight * (once + (air + HAZE_ALBEDO * haze) * again) * seen * step;
    });
  }
  return light;
}

const RINGS = 12;
const SECTORS = 10;

/** Mean radiance of the sky and its illuminance on level ground. */
function wholeSky(sunAltitude: number, glow: (sunAltitude: number) => number): { mean: number; illuminance: number } {
  let mean = 0;
  let illuminance = 0;
  for (let i = 0; i < RINGS; i++) {
    const altitude = ((i + 0.5) * 90) / RINGS;
    for (let j = 0; j < SECTORS; j++) {
      const solid = (Math.cos(altitude * DEG) * 90 * DEG * Math.PI * 2) / (RINGS * SECTORS);
      const light = lookAt(180 * ((j + 0.5) / SECTORS) ** 1.5, altitude, sunAltitude, glow);
      const crowded = 1.5 * Math.sqrt((j + 0.5) / SECTORS);
      mean += (light * solid * crowded) / (2 * Math.PI);
      illuminance += light * solid * crowded * Math.sin(altitude * DEG);
    }
  }
  return { mean, illuminance };
}

const GLOW_NODES = [10, 5, 2, 0, -1, -2, -3, -4, -5, -6, -8];

function glowFrom(levels: readonly number[]): (sunAltitude: number) => number {
  return (altitude) => {
    const right = GLOW_NODES.findIndex((node) => node <= altitude);
    if (right === 0) return levels[0] as number;
    const last = GLOW_NODES.length - 1;
    const i = right < 0 ? last : right;
    if (right < 0) return levels[last] as number;
    const [a, b] = [GLOW_NODES[i - 1] as number, GLOW_NODES[i] as number];
    const t = (a - altitude) / (a - b);
    return (levels[i - 1] as number) ** (1 - t) * (levels[i] as number) ** t;
  };
}

/**
 * The sky of a sun at an altitude: luminance against its mean on level ground, E/π, by angle from the sun's azimuth and
 * altitude [deg].
 */
export function scatteredSky(): (sunAltitude: number) => (fromSunDeg: number, altitude: number) => number {
  let glow = (_: number): number => 0;
  for (let order = 0; order < 2; order++) {
    const before = glow;
    // half of the sphere round a point is sky, the dark ground gives little
    glow = glowFrom(GLOW_NODES.map((node) => wholeSky(node, before).mean / 2));
  }
  return (sunAltitude) => {
    const mean = wholeSky(sunAltitude, glow).illuminance / Math.PI;
    return (fromSunDeg, altitude) => lookAt(fromSunDeg, altitude, sunAltitude, glow) / mean;
  };
}
