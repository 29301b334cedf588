import { DomainError } from "@fieldstop/core/domain-error";
import { flatHorizon, skyViewFactor } from "@fieldstop/core/horizon";
import { localDay, parseInstant, zoneClock } from "@fieldstop/core/instants";
import {
  type Facing,
  type Horizon,
  type HorizonReport,
  levelRowCount,
  levelRows,
  type SceneCamera,
  type TraceLevelsRequest,
  traceAssumptions,
} from "@fieldstop/core/light";
import { type Assumption, caution } from "@fieldstop/core/notes";
import { angleOfView } from "@fieldstop/core/optics";
import { moonPosition, moonTrack, sunTrack } from "@fieldstop/core/sky";
import type { CameraInput } from "./camera";
import type { Dependencies } from "./dependencies";
import { type HorizonInput, resolveHorizon } from "./horizon";
import { type PlaceInput, type PlaceTime, placeTime } from "./place";
import { rounded } from "./rounding";

/** A place and a span of time there. */
export interface LightLevelsRequest {
  readonly place: PlaceInput;
  /** First and last instant, RFC 3339, together; or a local day; default today. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly date?: string | undefined;
  readonly stepMinutes?: number | undefined;
  readonly horizon?: HorizonInput | undefined;
  readonly sky?: TraceLevelsRequest["sky"];
  readonly camera?: CameraInput | undefined;
  readonly subject?: Partial<Facing> | undefined;
  readonly reflectance?: number | undefined;
  readonly directions?: boolean | undefined;
}

/** All that a timeline takes, as plain data. */
export interface LightLevelsInput {
  readonly place: {
    readonly name: string | undefined;
    readonly latitude: number;
    readonly longitude: number;
    readonly elevationM: number;
    readonly eyeHeightM: number;
  };
  readonly timeZone: string;
  readonly startMs: number;
  readonly endMs: number;
  readonly stepMinutes: number;
  readonly horizon: Horizon;
  readonly sky: TraceLevelsRequest["sky"];
  readonly camera: SceneCamera | undefined;
  readonly subject: Facing | undefined;
  readonly reflectance: number | undefined;
  readonly directions: boolean | undefined;
  /** Said before what the timeline assumes itself. */
  readonly assumptions: readonly Assumption[];
}

const USUAL_EYE_HEIGHT_M = 1.6;

/** Look up what a timeline needs: zone and span, and the skyline of the place. */
export async function lightLevelsInput(
  dependencies: Dependencies,
  request: LightLevelsRequest,
): Promise<LightLevelsInput> {
  const { place, stepMinutes = 1, directions, sky, reflectance } = request;
  const time = placeTime(dependencies, place);
  const span = spanOf(request, time, dependencies.nowMs());
  // a span that is too long is refused before any terrain is read
  levelRowCount({ ...span, stepMinutes: request.stepMinutes, directions });
  const assumptions: Assumption[] = [...time.assumptions];
  const camera = sceneCamera(request.camera, assumptions);
  const subject = facingOf(request.subject, assumptions);
  const found = await resolveHorizon(dependencies, place, request.horizon);
  assumptions.push(...found.assumptions);
  if (place.eyeHeightM === undefined) {
    assumptions.push({ field: "eyeHeightM", value: USUAL_EYE_HEIGHT_M, why: "a standing person" });
  }
  return {
    place: {
      name: place.name,
      latitude: place.latitude,
      longitude: place.longitude,
      elevationM: place.elevationM ?? found.groundElevationM ?? 0,
      eyeHeightM: place.eyeHeightM ?? USUAL_EYE_HEIGHT_M,
    },
    timeZone: time.timeZone,
    ...span,
    stepMinutes,
    horizon: found.horizon,
    sky,
    camera,
    subject,
    reflectance,
    directions,
    assumptions,
  };
}

/** Trace the light over a span, from plain data alone. Rounds each row as it is made. */
export function lightLevels(input: LightLevelsInput) {
  const { place, timeZone, startMs, endMs, stepMinutes, horizon } = input;
  const clock = zoneClock(timeZone);
  const { latitude, longitude, elevationM, eyeHeightM } = place;
  const observer = { latitude, longitude, elevationM };
  const profile = horizon.kind === "flat" ? flatHorizon(eyeHeightM) : horizon.profile;
  const request: TraceLevelsRequest = {
    startMs,
    endMs,
    stepMinutes,
    sun: sunTrack(startMs, endMs, observer),
    moon: moonTrack(startMs, endMs, observer),
    moonDistanceKm: moonPosition((startMs + endMs) / 2, observer).distanceKm,
    profile,
    skyViewFactor: skyViewFactor(profile),
    reflectance: input.reflectance,
    sky: input.sky,
    camera: input.camera,
    subject: input.subject,
    directions: input.directions,
    clock,
  };
  const rows = levelRows(request).map((row) => rounded(row));
  return {
    ...rounded({
      place,
      timeZone,
      from: clock.format(startMs),
      to: clock.format(endMs),
      stepMinutes,
      skyViewFactor: request.skyViewFactor,
      horizon: reportOf(horizon),
      assumptions: [...input.assumptions, ...traceAssumptions(request)],
      cautions: [caution("sun-through-optics"), caution("dark-paths")],
    }),
    rows,
  };
}

/** The light over the span that a request asks for, behind the skyline of its place. */
export async function traceLightLevels(dependencies: Dependencies, request: LightLevelsRequest) {
  return lightLevels(await lightLevelsInput(dependencies, request));
}

function reportOf(horizon: Horizon): HorizonReport {
  if (horizon.kind === "flat") return { kind: "flat" };
  const { profile: _, ...report } = horizon;
  return report;
}

function spanOf({ from, to, date }: LightLevelsRequest, { timeZone, clock }: PlaceTime, nowMs: number) {
  if (from === undefined && to === undefined) {
    const { startMs, endMs } = localDay(date ?? clock.dateAt(nowMs), timeZone);
    return { startMs, endMs };
  }
  if (date !== undefined) throw new DomainError({ param: "date", given: date, allowed: "a date, or from and to" });
  if (from === undefined)
    throw new DomainError({ param: "from", given: from, allowed: "an instant, together with to" });
  if (to === undefined) throw new DomainError({ param: "to", given: to, allowed: "an instant, together with from" });
  const startMs = parseInstant(from, "from");
  const endMs = parseInstant(to, "to");
  if (endMs < startMs) throw new DomainError({ param: "to", given: to, allowed: "an instant at or after from" });
  return { startMs, endMs };
}

function sceneCamera(request: LightLevelsRequest["camera"], assumptions: Assumption[]): SceneCamera | undefined {
  if (request === undefined) return undefined;
  const { azimuthDeg, pitchDeg, focalLengthMm, sensor, orientation } = request;
  if (focalLengthMm === undefined) return { azimuthDeg, pitchDeg };
  if (sensor === undefined) {
    assumptions.push({ field: "camera.sensor", value: "full-frame", why: "no sensor was given" });
  }
  const frame = angleOfView({
    sensor: sensor ?? "full-frame",
    focalLengthMm,
    ...(orientation === undefined ? {} : { orientation }),
  });
  return { azimuthDeg, pitchDeg, horizontalAngleDeg: frame.horizontalDeg, verticalAngleDeg: frame.verticalDeg };
}

/** A facing without a slope is an upright face; a slope needs a facing. */
function facingOf(request: LightLevelsRequest["subject"], assumptions: Assumption[]): Facing | undefined {
  const { facingAzimuthDeg, slopeDeg } = request ?? {};
  if (facingAzimuthDeg === undefined) {
    if (slopeDeg === undefined || slopeDeg === 0) return undefined;
    const allowed = "the way the slope looks, 0 to 360";
    throw new DomainError({ param: "subject.facingAzimuthDeg", given: facingAzimuthDeg, allowed, unit: "deg" });
  }
  if (slopeDeg === undefined) {
    assumptions.push({ field: "subject.slopeDeg", value: 90, why: "a facing without a slope is an upright face" });
  }
  return { facingAzimuthDeg, slopeDeg: slopeDeg ?? 90 };
}
