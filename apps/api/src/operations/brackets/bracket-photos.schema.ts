import { z } from "@hono/zod-openapi";
import { BIAS_SOURCES } from "../../photos/photo-biases";
import { PHOTO_FORMATS } from "../../photos/photo-reader";
import { MAX_PHOTOS, type PhotosReview as PhotosReviewShape } from "../../photos/review-photos";
import { filePart, jsonPart, listPart } from "../shared/form";
import { bodyNumber } from "../shared/numbers";
import type { Assert, SameShape } from "../shared/same-shape";
import { BracketReview, ReviewInput } from "./bracket.schema";

const ReviewOptions = ReviewInput.omit({ frames: true }).openapi("ReviewOptions", {
  description: "As for histograms: what is known of the camera, what may clip and be black, the range to share",
});

export const PhotosInput = z
  .strictObject({
    photos: z.preprocess(
      (parts) => (parts === undefined ? undefined : [parts].flat()),
      z
        .array(
          filePart(
            "JPEG, PNG or TIFF, 8 or 16 bits a channel, up to 25 MiB and 100 megapixels, 25 where a PNG is interlaced",
          ),
        )
        .min(1)
        .max(MAX_PHOTOS)
        .openapi({ description: "One part for each photograph, all named photos" }),
    ),
    options: jsonPart(ReviewOptions.optional()),
    biasStops: listPart(
      z
        .array(bodyNumber({ min: -20, max: 20, description: "Against the base exposure [stops]", example: -2 }))
        .min(1)
        .max(MAX_PHOTOS)
        .optional()
        .openapi({ description: "The bias of each photograph, in place of what the files record" }),
    ),
  })
  .openapi("PhotosInput");

const ReviewedPhoto = z
  .object({
    name: z.string().openapi({ description: "The file's name as sent" }),
    format: z.enum(PHOTO_FORMATS),
    widthPx: z.int().openapi({ description: "As stored, before any rotation" }),
    heightPx: z.int(),
    bitsPerChannel: z.union([z.literal(8), z.literal(16)]),
    coding: z.enum(["srgb", "linear"]).openapi({ description: "What its codes count by" }),
    exposure: z
      .object({
        shutterSeconds: z.number().optional(),
        aperture: z.number().optional(),
        iso: z.number().optional(),
        biasStops: z.number().optional().openapi({ description: "What the camera was set to, against its meter" }),
      })
      .openapi("RecordedExposure")
      .openapi({ description: "As the file records it" }),
  })
  .openapi("ReviewedPhoto");

export const PhotosReview = z
  .object({
    ...BracketReview.shape,
    biasFrom: z.enum(BIAS_SOURCES).openapi({
      description:
        "Where biases are from: the request, the recorded exposures against the middle one, or the recorded biases",
    }),
    photos: z.array(ReviewedPhoto).openapi({ description: "In the order given" }),
  })
  .openapi("PhotosReview");

export type PhotosChecks = [Assert<SameShape<z.output<typeof PhotosReview>, PhotosReviewShape>>];
