import { isTileError, rounded } from "@fieldstop/answers";
import { type Assumption, DomainError } from "@fieldstop/core";
import type { HighestGround, TerrainHorizon as ScannedHorizon, Terrain } from "@fieldstop/terrain";
import { createRoute, type z } from "@hono/zod-openapi";
import { holdingOf } from "../../middleware/answer";
import { lacksUnreadGround } from "../../middleware/lifetime";
import { ProblemError } from "../../problems/problem";
import { answerJsonText, type JsonText } from "../json-text";
import { alsoAs, jsonAnswer, operation, queryProblems } from "../operation";
import { pictureAnswer, pictureInstead, wantsPicture } from "../picture";
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
  async (c) => {
    const { snapToHighestWithinM, eyeHeightM, stepDeg, radiusKm, ...asked } = c.req.valid("query");
    const { terrain, signal } = c.var.services;
    const snapped = await orUnavailable(snappedTo(terrain, asked, snapToHighestWithinM));
    const { latitude, longitude } = snapped ?? asked;
    if (wantsPicture(c)) {
      const { markup, light } = await horizonStripAt(c.var.services, { latitude, longitude, eyeHeightM });
      return pictureInstead(c, markup, holdingOf(light));
    }
    const found = await orUnavailable(
      terrain?.horizonAt({ latitude, longitude, eyeHeightM }, { stepDeg, radiusKm, signal }),
    );
    if (found === undefined || found === null) {
      const allowed = "a place that the service has elevation data for";
      throw new DomainError({ code: "impossible", param: "latitude", given: latitude, allowed });
    }
    return answerJsonText(
      c,
      horizonText(found, eyeHeightM === undefined, snapped && { ...asked, distanceM: snapped.distanceM }),
      { passing: lacksUnreadGround(found) },
    );
  },
  { lifetime: "settled" },
);

/** Where to stand in place of where was asked for. */
async function snappedTo(
  terrain: Terrain | undefined,
  { latitude, longitude }: { readonly latitude: number; readonly longitude: number },
  withinM: number | undefined,
): Promise<HighestGround | null | undefined> {
  return withinM === undefined ? undefined : terrain?.highestNear(latitude, longitude, withinM);
}

function horizonText(
  found: ScannedHorizon,
  eyeAssumed: boolean,
  snappedFrom: Answer["snappedFrom"] | null | undefined,
): JsonText<Answer> {
  const { profile, key: _key, ...horizon } = found;
  const answer: Answer = rounded({
    ...horizon,
    ...(snappedFrom && { snappedFrom }),
    azimuthsDeg: profile.azimuthsDeg,
    altitudesDeg: profile.altitudesDeg,
    distancesM: profile.distancesM,
    assumptions: assumptionsOf(found, eyeAssumed),
    cautions: [],
  });
  return JSON.stringify(answer);
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
async function orUnavailable<T>(asked: Promise<T> | undefined): Promise<T | undefined> {
  try {
    return await asked;
  } catch (error) {
    if (!isTileError(error)) throw error;
    const detail = "The elevation tile of this place cannot be used just now.";
    throw new ProblemError("unavailable", { detail, headers: { "Retry-After": "60" } });
  }
}
