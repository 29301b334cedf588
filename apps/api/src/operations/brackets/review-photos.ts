import { rounded } from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import { formReader } from "../../middleware/multipart";
import { MOST_FORM_BYTES, reviewPhotos } from "../../photos/review-photos";
import { ProblemError } from "../../problems/problem";
import { bodyProblems, formBody, jsonAnswer, operation } from "../operation";
import { PhotosInput, PhotosReview } from "./bracket-photos.schema";

const route = createRoute({
  method: "post",
  path: "/v1/brackets/review-photos",
  operationId: "reviewBracketPhotos",
  tags: ["brackets"],
  summary: "What the photographs of a set hold, and what is missing",
  description:
    "The same review from the photographs themselves: up to 15 JPEG, PNG or TIFF files of 25 MiB and 100 megapixels, of which only histograms and recorded exposures are taken; nothing is kept. Biases are those given, else from the recorded time, aperture and ISO against the photograph with the middle exposure, else the recorded biases; biasFrom says which.",
  middleware: formReader({ bytes: MOST_FORM_BYTES, parts: 64, atOnce: 4 }),
  request: { body: formBody(PhotosInput) },
  responses: { 200: jsonAnswer(PhotosReview, "The review, photographs in the order given"), ...bodyProblems },
});

export const reviewBracketPhotos = operation(
  route,
  async (c) => {
    const reader = c.var.services.photos;
    if (reader === undefined) {
      throw new ProblemError("unavailable", { detail: "This service runs without a decoder for photographs." });
    }
    return c.json(rounded(await reviewPhotos(reader, c.req.valid("form"))), 200);
  },
  { points: 10 },
);
