import { rounded } from "@fieldstop/operations";
import { createRoute } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import type { PhotoReader } from "../../photos/photo-reader";
import { inSlot } from "../../photos/photo-slots";
import { reviewPhotos } from "../../photos/review-photos";
import { bodyProblems, formBody, jsonAnswer, operation } from "../operation";
import { PhotosInput, PhotosReview } from "./bracket-photos.schema";

const MS_A_POINT = 10;

const route = createRoute({
  method: "post",
  path: "/v1/brackets/review-photos",
  operationId: "reviewBracketPhotos",
  tags: ["brackets"],
  summary: "What the photographs of a set hold, and what is missing",
  description:
    "The same review from the photographs themselves: up to 15 JPEG, PNG or TIFF files of 25 MiB and 100 megapixels, of which only histograms and recorded exposures are taken; nothing is kept. Biases are those given, else from the recorded time, aperture and ISO against the photograph with the middle exposure, else the recorded biases; biasFrom says which. Each 10 ms that decoding took counts for a further point.",
  request: { body: formBody(PhotosInput) },
  responses: {
    200: jsonAnswer(PhotosReview, "The review, photographs in the order given"),
    ...bodyProblems,
  },
});

export const reviewBracketPhotos = operation(
  route,
  async ({ services: { photos }, form, context }) => {
    const { signal } = context;
    // what a photograph costs hangs on its pixels and its coding, which only decoding tells
    const charge = (ms: number): void => context.charge(ms / MS_A_POINT);
    // without one the form was refused before it was read
    const reader = photos as PhotoReader;
    return json(rounded(await inSlot(() => reviewPhotos(reader, form, signal, charge), signal)));
  },
  { points: 2 },
);
