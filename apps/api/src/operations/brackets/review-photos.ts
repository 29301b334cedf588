import { rounded } from "@fieldstop/answers";
import { createRoute } from "@hono/zod-openapi";
import type { MiddlewareHandler } from "hono";
import type { AppEnv } from "../../env";
import type { PhotoReader } from "../../photos/photo-reader";
import { reviewForm } from "../../photos/photo-slots";
import type { Form } from "../../photos/read-form";
import { reviewPhotos } from "../../photos/review-photos";
import { ProblemError } from "../../problems/problem";
import { bodyProblems, formBody, jsonAnswer, operation, slowBodyProblem } from "../operation";
import { PhotosInput, PhotosReview } from "./bracket-photos.schema";

/** Reads the form before the route's schema looks at it. */
const takeForm: MiddlewareHandler<AppEnv> = async (c, next) => {
  const { photos, signal } = c.var.services;
  if (photos === undefined) {
    throw new ProblemError("unavailable", { detail: "This service runs without a decoder for photographs." });
  }
  const review = (form: Form): Promise<void> => {
    c.req.bodyCache.formData = asFormData(form);
    return next();
  };
  await reviewForm(c.req.raw.body, c.req.header("Content-Type") ?? "", review, signal);
};

function asFormData(form: Form): FormData {
  const data = new FormData();
  for (const [name, values] of Object.entries(form)) {
    for (const value of [values].flat()) data.append(name, value);
  }
  return data;
}

const route = createRoute({
  method: "post",
  path: "/v1/brackets/review-photos",
  operationId: "reviewBracketPhotos",
  tags: ["brackets"],
  summary: "What the photographs of a set hold, and what is missing",
  description:
    "The same review from the photographs themselves: up to 15 JPEG, PNG or TIFF files of 25 MiB and 100 megapixels, of which only histograms and recorded exposures are taken; nothing is kept. Biases are those given, else from the recorded time, aperture and ISO against the photograph with the middle exposure, else the recorded biases; biasFrom says which.",
  middleware: takeForm,
  request: { body: formBody(PhotosInput) },
  responses: {
    200: jsonAnswer(PhotosReview, "The review, photographs in the order given"),
    ...bodyProblems,
    ...slowBodyProblem,
  },
});

export const reviewBracketPhotos = operation(
  route,
  async (c) => {
    const { photos, signal } = c.var.services;
    return c.json(rounded(await reviewPhotos(photos as PhotoReader, c.req.valid("form"), signal)), 200);
  },
  { points: 10 },
);
