import { type Assumption, DomainError } from "@fieldstop/core";
import { isTileError, rounded } from "@fieldstop/operations";
import type { HighestGround, TerrainHorizon as ScannedHorizon, Terrain } from "@fieldstop/terrain";
import { createRoute, type z } from "@hono/zod-openapi";
import { SVG_TYPE } from "../../middleware/accept";
import { json, lifespanOf } from "../../middleware/answer";
import { ProblemError } from "../../problems/problem";
import { alsoAs, jsonAnswer, lookups, operation, picture, pictureAnswer, queryProblems } from "../operation";
import { SKYLINE_POINTS } from "../shared/points";
import { horizonStripAt } from "./horizon-strip-at";
import { HorizonQuery, TerrainHorizon } from "./terrain-horizon.schema";

type Answer = z.output<typeof TerrainHorizon>;

const route = createRoute({
  method: "get",
  path: "/v1/horizon",
  operationId: "getHorizon",
  tags: ["horizon"],
  summary: "The skyline round a place",
  description:
    "Apparent altitude and distance of the skyline for each azimuth, from the service's elevation data: the curve of the Earth and the usual bending of light are in it. Says where data is missing and which azimuths that leaves in doubt. With Accept: image/svg+xml, the picture of /v1/horizon.svg for today.",
  request: { query: HorizonQuery },
  responses: { 200: alsoAs(jsonAnswer(TerrainHorizon, "The skyline"), pictureAnswer("The strip")), ...queryProblems },
});

export const getHorizon = operation(
  route,
  async (request) => {
    const { snapToHighestWithinM, eyeHeightM, stepDeg, radiusKm, ...place } = request.query;
    const { terrain, signal } = lookups(request);
    const snapped = await orUnavailable(snappedTo(terrain, place, snapToHighestWithinM));
    const { latitude, longitude } = snapped ?? place;
    if (request.type === SVG_TYPE) {
      const { markup, light } = await horizonStripAt(lookups(request), { latitude, longitude, eyeHeightM });
      // it is of today, whatever the query says
      return picture(markup, { ...lifespanOf(light), short: true });
    }
    const found = await orUnavailable(
      terrain?.horizonAt({ latitude, longitude, eyeHeightM }, { stepDeg, radiusKm, signal }),
    );
    if (found === undefined || found === null) {
      const allowed = "a place that the service has elevation data for";
      throw new DomainError({ code: "impossible", param: "latitude", given: latitude, allowed });
    }
    return json(horizonOf(found, eyeHeightM === undefined, snapped && { ...place, distanceM: snapped.distanceM }));
  },
  { lifetime: "immutable", points: 2 * SKYLINE_POINTS },
);

/** Where to stand in place of where was asked for. */
async function snappedTo(
  terrain: Terrain | undefined,
  { latitude, longitude }: { readonly latitude: number; readonly longitude: number },
  withinM: number | undefined,
): Promise<HighestGround | null | undefined> {
  return withinM === undefined ? undefined : terrain?.highestNear(latitude, longitude, withinM);
}

function horizonOf(
  found: ScannedHorizon,
  eyeAssumed: boolean,
  snappedFrom: Answer["snappedFrom"] | null | undefined,
): Answer {
  const { profile, key: _key, ...horizon } = found;
  return rounded({
    ...horizon,
    ...(snappedFrom && { snappedFrom }),
    azimuthsDeg: profile.azimuthsDeg,
    altitudesDeg: profile.altitudesDeg,
    distancesM: profile.distancesM,
    assumptions: assumptionsOf(found, eyeAssumed),
    cautions: [],
  });
}

function assumptionsOf({ viewpoint, refractionCoefficient }: ScannedHorizon, eyeAssumed: boolean): Assumption[] {
  const why =
    "usual bending of light over land by day; the day's own moves the skyline by 0.02° to 0.05°, inversions by more";
  const assumptions: Assumption[] = [{ field: "refractionCoefficient", value: refractionCoefficient, why }];
  if (eyeAssumed) {
    assumptions.unshift({ field: "eyeHeightM", value: viewpoint.eyeHeightM, why: "a camera at eye level on a tripod" });
  }
  return assumptions;
}

/** A tile at the viewpoint that cannot be used may be mended or come back: not now is not never. */
async function orUnavailable<T>(found: Promise<T> | undefined): Promise<T | undefined> {
  try {
    return await found;
  } catch (error) {
    if (!isTileError(error)) throw error;
    const detail = "The elevation tile of this place cannot be used just now.";
    throw new ProblemError("unavailable", { detail, headers: { "Retry-After": "60" } });
  }
}
