import { findAlignments as find, type Horizon } from "@fieldstop/core";
import { createRoute } from "@hono/zod-openapi";
import { ALIGNMENTS } from "../examples/light";
import { bodyProblems, jsonAnswer, jsonBody, operation } from "../http/operation";
import { rounded } from "../http/rounding";
import { resolveHorizon } from "../places/resolve-horizon";
import { placeTime } from "../places/resolve-place";
import { AlignmentInput, Alignments } from "../schemas/alignments";

const route = createRoute({
  method: "post",
  path: "/v1/alignments",
  operationId: "findAlignments",
  tags: ["light"],
  summary: "When sun or moon stands where it is wanted",
  description:
    "The days and instants, over up to 20 years, at which sun or moon comes within a tolerance of a direction, or touches the skyline at an azimuth as in a notch; filtered by the sun's altitude and the moon's phase.",
  request: { body: jsonBody(AlignmentInput, ALIGNMENTS) },
  responses: { 200: jsonAnswer(Alignments, "The alignments"), ...bodyProblems },
});

export const findAlignments = operation(route, async (c) => {
  const { place, horizon: asked, sunAltitudeDeg, illuminatedFraction, ...search } = c.req.valid("json");
  const { services } = c.var;
  const { timeZone, assumptions } = placeTime(services, place);
  const terrain =
    search.target.kind === "skyline"
      ? await resolveHorizon(services, place, asked)
      : { horizon: { kind: "flat" } as Horizon, assumptions: [] };
  const request = {
    ...search,
    place,
    timeZone,
    profile: terrain.horizon.kind === "flat" ? undefined : terrain.horizon.profile,
    sunAltitudeDeg: sunAltitudeDeg as [number, number] | undefined,
    illuminatedFraction: illuminatedFraction as [number, number] | undefined,
  };
  const found = await (services.longWork?.findAlignments(request) ?? find(request));
  return c.json(
    rounded({ ...found, assumptions: [...assumptions, ...terrain.assumptions, ...found.assumptions] }),
    200,
  );
});
