import { DomainError, requireInRange } from "../domain-error";
import type { FrameProjection } from "../framing/projection";
import type { HorizonProfile } from "../horizon/profile";
import { interpolateRoundCompass } from "../interpolation";
import type { Assumption } from "../notes";
import { WATER_REFRACTIVE_INDEX } from "../sky/fresnel";
import { skyPolarization } from "../sky/polarization";
import { type SkyPoint, type SkyState, TURBIDITY } from "../sky/sky-types";
import { type PolarizerFilter, readFilter } from "./filter";
import type { WetSurface } from "./polarized-glare";
import {
  maxDarkeningOf,
  type PolarizedSky,
  type SkyDarkening,
  type SkyLook,
  skyThroughPolarizer,
} from "./polarized-sky";
import { type PolarizedWater, waterThroughPolarizer } from "./polarized-water";
import {
  type PolarizerConflict,
  type PolarizerVerdict,
  type PolarizerWarning,
  polarizerVerdict,
  polarizerWarnings,
} from "./polarizer-advice";
import { rotationsApartDeg } from "./polarizer-angle";
import { type FrameLook, type PolarizerFrame, polarizerFrame } from "./polarizer-rays";

/** Water or a wet beach in the lower part of the frame. */
export interface WaterInFrame {
  /** Default still water; wet sand is the same film, tilted here and there. */
  readonly surface?: WetSurface | undefined;
  /** [1], 1 to 4; default 1.333. */
  readonly refractiveIndex?: number | undefined;
}

export interface PolarizerRequest {
  /** Apparent azimuth and altitude [deg]. */
  readonly sun: SkyPoint;
  /** The map between directions and points of the frame, as `frameProjection` makes it. */
  readonly projection: FrameProjection;
  /** The skyline, above which is sky; the level horizon where absent. */
  readonly profile?: HorizonProfile | undefined;
  readonly sky?: SkyState | undefined;
  /** Where water fills what is below the horizon. */
  readonly water?: WaterInFrame | undefined;
  readonly filter?: PolarizerFilter | undefined;
  /** How many points across and down the frame, 2 to 60; default 13 and 9. */
  readonly grid?: { readonly columns: number; readonly rows: number } | undefined;
}

export interface PolarizerAssessment {
  /** What it takes from unpolarized light: the light it costs [stops]. */
  readonly lossStops: number;
  /** Null where no sky is in the frame. */
  readonly sky: PolarizedSky | null;
  /** Null where there is no water in the frame, or none was spoken of. */
  readonly water: PolarizedWater | null;
  /** Null where one of the two is missing. */
  readonly conflict: PolarizerConflict | null;
  readonly verdict: PolarizerVerdict;
  readonly warnings: readonly PolarizerWarning[];
  readonly assumptions: readonly Assumption[];
}

const USUAL_GRID = { columns: 13, rows: 9 } as const;
// Rounding must not decide on which side of the skyline a point lies
const ON_THE_LINE_DEG = 1e-6;
const WET_SURFACES: readonly string[] = ["still-water", "wet-sand"] satisfies WetSurface[];

/**
 * Assess what a polarizer does to this frame: how far it darkens the sky and how evenly, what glare it leaves on water, at
 * which rotation, what one costs the other, and how much light it takes.
 *
 * Rotation is that of the axis whose light passes: 0 upright in the frame, clockwise as seen from behind the camera,
 * 0 to 180. A polarizer turned by 180° is as it was.
 * @param request sun [deg], projection, skyline [deg], cloud and turbidity, water, the filter's loss [stops] 0 to 20
 * (default 1.5), grid
 * @returns darkening against unpolarized surroundings [stops], positive darker; glare left [%]
 * @throws DomainError for values out of range
 * Source: T = ½(1 + p·cos 2(θ − φ)) for partly polarized light (Malus; from memory), {@link skyPolarization}, Fresnel.
 * A filter's leak of the light it should stop, under a thousandth in most, is left out. Accuracy: as that of the degree
 * of polarization, ±0.1, which is ±0.5 stops where the sky darkens most; golden rows `pol` and `glare`, and
 * tests/core/filters/polarizer.spec.ts.
 * @example assessPolarizer({ sun: { azimuthDeg: 270, altitudeDeg: 0 }, projection }).sky.maxDarkening // 1.7 stops at 90°, the camera toward north
 */
export function assessPolarizer(request: PolarizerRequest): PolarizerAssessment {
  const { projection, profile, sky: state = {}, water: wet } = request;
  const assumptions: Assumption[] = [];
  const { attenuationStops } = readFilter(request.filter ?? { kind: "polarizer" }, "filter", assumptions);
  const polarization = skyPolarization(request.sun, state);
  noteSky(state, assumptions);

  const frame = polarizerFrame(projection);
  const { columns, rows } = gridOf(request.grid);
  const { skyLooks, isWater, looks } = looksOver(frame, profile, columns, rows);
  const sky = skyLooks.length === 0 ? null : skyThroughPolarizer(frame, skyLooks, polarization);

  const surface = wet?.surface ?? "still-water";
  if (!WET_SURFACES.includes(surface)) {
    throw new DomainError({ param: "water.surface", given: surface, allowed: WET_SURFACES.join(", ") });
  }
  const refractiveIndex = requireInRange("water.refractiveIndex", wet?.refractiveIndex ?? WATER_REFRACTIVE_INDEX, 1, 4);
  const waterLooks = wet === undefined ? [] : looks.filter(isWater).map((look) => partly(look, -look.altitudeDeg));
  const middle = Array.from({ length: 25 }, (_, i) => frame.look(0.5, i / 24)).filter(isWater);
  const water =
    waterLooks.length === 0 ? null : waterThroughPolarizer(frame, waterLooks, middle, surface, refractiveIndex);
  if (water !== null) noteWater(wet, assumptions);

  const conflict =
    sky === null || water === null
      ? null
      : {
          apartDeg: rotationsApartDeg(sky.sky.maxDarkening.rotationDeg, water.water.rotationDeg),
          skyLosesStops: Math.max(0, sky.sky.maxDarkening.meanStops - sky.meanStopsAt(water.water.rotationDeg)),
          waterKeepsPercent: Math.max(
            0,
            water.glareLeftPercentAt(sky.sky.maxDarkening.rotationDeg) - water.water.glareLeftPercent,
          ),
        };
  const skyAnswer = sky?.sky ?? null;
  const waterAnswer = water?.water ?? null;
  return {
    lossStops: attenuationStops,
    sky: skyAnswer,
    water: waterAnswer,
    conflict,
    verdict: polarizerVerdict(skyAnswer, waterAnswer, attenuationStops),
    warnings: polarizerWarnings(skyAnswer, conflict),
    assumptions,
  };
}

interface FrameLooks {
  readonly looks: readonly GridLook[];
  readonly skyLooks: readonly SkyLook[];
  isWater(look: FrameLook): boolean;
}

/** Looks all over a frame, and which of them see sky and which what could be water. */
function looksOver(
  frame: PolarizerFrame,
  profile: HorizonProfile | undefined,
  columns: number,
  rows: number,
): FrameLooks {
  const skylineDeg = (azimuthDeg: number): number =>
    profile === undefined ? 0 : interpolateRoundCompass(profile.azimuthsDeg, profile.altitudesDeg, azimuthDeg);
  const overSkylineDeg = ({ azimuthDeg, altitudeDeg }: FrameLook): number => altitudeDeg - skylineDeg(azimuthDeg);
  const looks = gridLooks(frame.look, columns, rows);
  const skyLooks: SkyLook[] = [];
  for (const look of looks) {
    const clearDeg = overSkylineDeg(look);
    if (clearDeg > -ON_THE_LINE_DEG) skyLooks.push(partly(look, clearDeg));
  }
  const isWater = (look: FrameLook): boolean => look.altitudeDeg < 0 && !(overSkylineDeg(look) > -ON_THE_LINE_DEG);
  return { looks, skyLooks, isWater };
}

/**
 * The rotation that darkens the sky in a frame most, as {@link assessPolarizer} has it; undefined where no sky is in the frame.
 * For values in range.
 */
export function darkestSky(
  sun: SkyPoint,
  projection: FrameProjection,
  profile: HorizonProfile,
  sky: SkyState | undefined,
  { columns, rows }: { readonly columns: number; readonly rows: number },
): SkyDarkening | undefined {
  const frame = polarizerFrame(projection);
  const { skyLooks } = looksOver(frame, profile, columns, rows);
  return skyLooks.length === 0 ? undefined : maxDarkeningOf(frame, skyLooks, skyPolarization(sun, sky));
}

interface GridLook extends SkyLook {
  /** How much altitude the point stands for [deg]. */
  readonly heightDeg: number;
}

/** Nodes from edge to edge, so that the corners are among them; those on an edge stand for half as much. */
function gridLooks(look: (x: number, y: number) => FrameLook, columns: number, rows: number): GridLook[] {
  const edge = (i: number, last: number): number => (i === 0 || i === last ? 0.5 : 1);
  const nodes = Array.from({ length: columns * rows }, (_, i) =>
    look((i % columns) / (columns - 1), Math.floor(i / columns) / (rows - 1)),
  );
  return nodes.map((node, i) => {
    const row = Math.floor(i / columns);
    const next = nodes[row === 0 ? i + columns : i - columns] as FrameLook;
    const weight = edge(i % columns, columns - 1) * edge(row, rows - 1);
    return { weight, heightDeg: Math.abs(next.altitudeDeg - node.altitudeDeg), ...node };
  });
}

/** A point near the line stands for what of its height is on its side. */
function partly(look: GridLook, clearDeg: number): SkyLook {
  if (clearDeg >= look.heightDeg / 2) return look;
  return { ...look, weight: look.weight * (0.5 + Math.max(0, clearDeg) / look.heightDeg) };
}

function gridOf(grid: PolarizerRequest["grid"] = USUAL_GRID): { columns: number; rows: number } {
  for (const side of ["columns", "rows"] as const) {
    if (!(Number.isInteger(grid[side]) && grid[side] >= 2 && grid[side] <= 60)) {
      throw new DomainError({ param: `grid.${side}`, given: grid[side], allowed: "a whole number, 2 to 60" });
    }
  }
  return grid;
}

function noteSky({ cloudCover, turbidity }: SkyState, assumptions: Assumption[]): void {
  if (cloudCover === undefined) {
    assumptions.push({ field: "sky.cloudCover", value: "clear", why: "no cloud was given" });
  } else if (cloudCover.low + cloudCover.middle + cloudCover.high > 0) {
    const why = "the polarization is the mean over blue and cloud; gaps of blue darken more";
    assumptions.push({ field: "sky.cloudCover", value: "evenly spread", why });
  }
  if (turbidity === undefined) {
    assumptions.push({ field: "sky.turbidity", value: TURBIDITY.usual, why: "air of usual clearness" });
  }
}

function noteWater(wet: WaterInFrame | undefined, assumptions: Assumption[]): void {
  if (wet?.surface === undefined) {
    assumptions.push({ field: "water.surface", value: "still-water", why: "no other surface was given" });
  }
  if (wet?.refractiveIndex === undefined) {
    const why = "fresh water; sea water is about 1.34";
    assumptions.push({ field: "water.refractiveIndex", value: WATER_REFRACTIVE_INDEX, why });
  }
  const why = "the light that falls on the water is taken as unpolarized and even";
  assumptions.push({ field: "water.skyAbove", value: "unpolarized", why });
}
