import type { DirectLight, DirectLightRequest, Facing } from "@fieldstop/core/light";
import { HORIZON_REFRACTION_DEG, refractionDeg, SUN_SEMIDIAMETER_DEG, sunTrack } from "@fieldstop/core/sky";

/** Whether light falls, instant by instant: the plain way to find edges, against which the quick one is held. */
export interface LimbScan {
  readonly stepMs: number;
  readonly timesMs: Float64Array;
  /** Clearance of the limbs over the skyline and of the upper limb over the almanac's horizon [deg]. */
  readonly upperDeg: Float64Array;
  readonly lowerDeg: Float64Array;
  readonly almanacDeg: Float64Array;
  /** Cosine of the angle at which the rays fall; 1 throughout for what takes light from all sides. */
  readonly cosine: Float64Array;
}

export interface ScanEdge {
  /** The first sample on the new side of the edge [Unix ms]. */
  readonly atMs: number;
  /** Where the straight line between the two samples passes zero [Unix ms]. */
  readonly zeroMs: number;
  readonly direction: "rising" | "falling";
}

const RAD = Math.PI / 180;
// The air that brings a limb on the sea horizon to the almanac's 34′
const AIR = HORIZON_REFRACTION_DEG / refractionDeg(-HORIZON_REFRACTION_DEG);

/** Apparent altitude [deg] of a point of the disc in standard air; the almanac's lift is held below the level. */
function seenDeg(trueDeg: number): number {
  return trueDeg + (trueDeg > -HORIZON_REFRACTION_DEG ? AIR * refractionDeg(trueDeg) : HORIZON_REFRACTION_DEG);
}

/** Reads the skyline node by node, with no use of core. */
function skylineReader({ azimuthsDeg, altitudesDeg }: DirectLightRequest["profile"]): (azimuthDeg: number) => number {
  const n = azimuthsDeg.length;
  const azimuths = [(azimuthsDeg[n - 1] as number) - 360, ...azimuthsDeg, (azimuthsDeg[0] as number) + 360];
  const altitudes = [altitudesDeg[n - 1] as number, ...altitudesDeg, altitudesDeg[0] as number];
  let i = 0;
  return (azimuthDeg) => {
    while (azimuthDeg < (azimuths[i] as number)) i--;
    while (azimuthDeg >= (azimuths[i + 1] as number)) i++;
    const [left, right] = [azimuths[i] as number, azimuths[i + 1] as number];
    const [a, b] = [altitudes[i] as number, altitudes[i + 1] as number];
    return a + ((b - a) * (azimuthDeg - left)) / (right - left);
  };
}

/** Scans in steps, both ends of the span included, for an observer at the sea in standard air. */
export function limbScan(
  { track, startMs, endMs, profile, almanacAltitudeDeg, facing }: DirectLightRequest,
  stepMs: number,
): LimbScan {
  const skylineDeg = skylineReader(profile);
  const rays = facing === undefined ? () => 1 : cosineOn(facing);
  const count = Math.floor((endMs - startMs) / stepMs) + 1;
  const [timesMs, upperDeg, lowerDeg, almanacDeg, cosine] = [0, 1, 2, 3, 4].map(() => new Float64Array(count)) as [
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
    Float64Array,
  ];
  for (let i = 0; i < count; i++) {
    const ms = startMs + i * stepMs;
    const { azimuthDeg, altitudeDeg, trueAltitudeDeg } = track(ms);
    const skyline = skylineDeg(azimuthDeg);
    const upper = seenDeg(trueAltitudeDeg + SUN_SEMIDIAMETER_DEG);
    timesMs[i] = ms;
    upperDeg[i] = upper - skyline;
    lowerDeg[i] = seenDeg(trueAltitudeDeg - SUN_SEMIDIAMETER_DEG) - skyline;
    almanacDeg[i] = upper - almanacAltitudeDeg;
    cosine[i] = rays(azimuthDeg, altitudeDeg);
  }
  return { stepMs, timesMs, upperDeg, lowerDeg, almanacDeg, cosine };
}

/** The scalar product of two unit vectors, east, north and up: to the sun, and out of the surface. */
function cosineOn({ facingAzimuthDeg, slopeDeg }: Facing): (azimuthDeg: number, altitudeDeg: number) => number {
  const east = Math.sin(slopeDeg * RAD) * Math.sin(facingAzimuthDeg * RAD);
  const north = Math.sin(slopeDeg * RAD) * Math.cos(facingAzimuthDeg * RAD);
  const up = Math.cos(slopeDeg * RAD);
  return (azimuthDeg, altitudeDeg) => {
    const level = Math.cos(altitudeDeg * RAD);
    return (
      east * level * Math.sin(azimuthDeg * RAD) +
      north * level * Math.cos(azimuthDeg * RAD) +
      up * Math.sin(altitudeDeg * RAD)
    );
  };
}

/** Whether light falls at a sample. */
export function isLit(scan: LimbScan, i: number): boolean {
  return (scan.upperDeg[i] as number) > 0 && (scan.cosine[i] as number) > 0;
}

/** Every change between two samples. */
export function scanEdges(scan: LimbScan): ScanEdge[] {
  const edges: ScanEdge[] = [];
  for (let i = 1; i < scan.timesMs.length; i++) {
    const lit = isLit(scan, i);
    if (lit === isLit(scan, i - 1)) continue;
    const atMs = scan.timesMs[i] as number;
    const zeros = [scan.upperDeg, scan.cosine].map((values): number => {
      const [before, after] = [values[i - 1] as number, values[i] as number];
      return before > 0 === after > 0 ? Number.NaN : atMs - (scan.stepMs * after) / (after - before);
    });
    const passed = zeros.filter((ms) => !Number.isNaN(ms));
    // light needs both limb and surface: it comes with the later and goes with the earlier
    edges.push({
      atMs,
      zeroMs: lit ? Math.max(...passed) : Math.min(...passed),
      direction: lit ? "rising" : "falling",
    });
  }
  return edges;
}

export interface FoundEdge {
  readonly ms: number;
  readonly direction: "rising" | "falling";
}

/** The edges of direct light that are not ends of the span, without pairs between the same two samples, which a scan cannot see. */
export function foundEdges(
  { intervals }: DirectLight,
  { startMs, endMs }: DirectLightRequest,
  stepMs: number,
): FoundEdge[] {
  const edges = intervals
    .flatMap((interval): FoundEdge[] => [
      { ms: interval.startMs, direction: "rising" },
      { ms: interval.endMs, direction: "falling" },
    ])
    .filter(({ ms }) => ms > startMs && ms < endMs);
  const step = ({ ms }: FoundEdge): number => Math.floor((ms - startMs) / stepMs);
  const kept: FoundEdge[] = [];
  for (const edge of edges) {
    const last = kept.at(-1);
    if (last !== undefined && step(last) === step(edge) && last.direction !== edge.direction) kept.pop();
    else kept.push(edge);
  }
  return kept;
}

/** A day with a skyline, made up to be hard, the same in every run. */
export interface HardDay {
  readonly label: string;
  readonly request: DirectLightRequest;
}

const HOUR_MS = 3_600_000;
export const SHAPES = ["hills", "spikes", "notches", "along the path", "teeth on the path"] as const;
type Shape = (typeof SHAPES)[number];

/**
 * Days all over the globe and the years, 23 to 25 hours from any hour on, in turn under each shape of skyline with nodes at 0.25°, 1° and 5°; every
 * third lights a surface that faces one way.
 */
export function hardDays(random: () => number, count: number): HardDay[] {
  return Array.from({ length: count }, (_, i) => {
    const shape = SHAPES[i % SHAPES.length] as Shape;
    const stepDeg = [0.25, 1, 5][Math.floor(i / SHAPES.length) % 3] as number;
    const latitude = 160 * random() - 80;
    const longitude = 360 * random() - 180;
    const startMs = Date.UTC(1901, 0, 1) + Math.floor(random() * 199 * 365 * 24) * HOUR_MS;
    const endMs = startMs + (23 + Math.floor(3 * random())) * HOUR_MS;
    const track = sunTrack(startMs, endMs, { latitude, longitude });
    const azimuthsDeg = Array.from({ length: 360 / stepDeg }, (_node, node) => node * stepDeg);
    const altitudesDeg = skylineOf(shape, azimuthsDeg, track, startMs, endMs, random);
    const facing = { facingAzimuthDeg: 360 * random(), slopeDeg: 180 * random() };
    const date = new Date(startMs).toISOString();
    return {
      label: `${shape}, ${stepDeg}°, ${latitude.toFixed(1)}, ${date}${i % 3 === 2 ? ", facing" : ""}`,
      request: {
        track,
        startMs,
        endMs,
        profile: { azimuthsDeg, altitudesDeg },
        almanacAltitudeDeg: -0.3 * random(),
        ...(i % 3 === 2 ? { facing } : {}),
      },
    };
  });
}

function skylineOf(
  shape: Shape,
  azimuthsDeg: readonly number[],
  track: DirectLightRequest["track"],
  startMs: number,
  endMs: number,
  random: () => number,
): number[] {
  if (shape === "hills") {
    const [height, a, b] = [8 * random(), 360 * random(), 360 * random()];
    return azimuthsDeg.map(
      (azimuth) => height * (0.7 + Math.sin((azimuth - a) * 2 * RAD) + 0.3 * Math.sin((azimuth - b) * 23 * RAD)),
    );
  }
  if (shape === "spikes") return azimuthsDeg.map(() => (random() < 0.5 ? -0.5 : 45 * random() ** 3));
  // the altitude that the sun has as it stands over each node
  const stepDeg = 360 / azimuthsDeg.length;
  const path = azimuthsDeg.map(() => -1);
  for (let ms = startMs; ms < endMs; ms += 15_000) {
    const { azimuthDeg, altitudeDeg } = track(ms);
    const node = Math.round(azimuthDeg / stepDeg) % azimuthsDeg.length;
    path[node] = Math.max(-1, altitudeDeg);
  }
  if (shape === "notches") {
    return path.map((altitude) =>
      Math.min(89, random() < 0.06 ? altitude - 3 * random() : altitude + 2 + 5 * random()),
    );
  }
  const spreadDeg = shape === "along the path" ? 0.1 : 1;
  return path.map((altitude) => Math.min(89, altitude + spreadDeg * (2 * random() - 1)));
}
