import { z } from "@hono/zod-openapi";

export const Assumption = z
  .object({
    field: z.string().openapi({ description: "The field that was guessed", example: "eyeHeightM" }),
    value: z.union([z.string(), z.number(), z.boolean()]),
    why: z.string(),
  })
  .openapi("Assumption");

export const Caution = z
  .object({
    code: z.enum([
      "sun-through-optics",
      "tide-and-swell",
      "dark-paths",
      "cliffs",
      "steep-ground",
      "mud-flats",
      "wildlife",
      "thin-air",
      "cold-and-ice",
      "heat",
    ]),
    text: z.string(),
  })
  .openapi("Caution");
