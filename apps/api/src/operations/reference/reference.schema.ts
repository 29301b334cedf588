import { z } from "@hono/zod-openapi";

const about = {
  name: z.string().openapi({ description: "As in the path", example: "scene-exposure-values" }),
  title: z.string(),
  source: z.string().openapi({ description: "Where the values come from" }),
};

export const ReferenceTables = z
  .object({ tables: z.array(z.object({ ...about, rowCount: z.int() }).openapi("ReferenceTableEntry")) })
  .openapi("ReferenceTables");

export const ReferenceTable = z
  .object({
    ...about,
    columns: z.array(
      z.object({ name: z.string(), description: z.string(), unit: z.string().optional() }).openapi("ReferenceColumn"),
    ),
    rows: z.array(z.record(z.string(), z.union([z.string(), z.number()]))).openapi({
      description: "One member for each column",
    }),
  })
  .openapi("ReferenceTable");
