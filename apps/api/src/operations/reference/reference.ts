import * as operations from "@fieldstop/operations";
import { createRoute, z } from "@hono/zod-openapi";
import { json } from "../../middleware/answer";
import { jsonAnswer, notFoundProblem, operation, queryProblems } from "../operation";
import { ReferenceTable, ReferenceTables } from "./reference.schema";

const names = [...operations.REFERENCE_TABLES.keys()];

const list = createRoute({
  method: "get",
  path: "/v1/reference",
  operationId: "listReferenceTables",
  tags: ["reference"],
  summary: "Which tables of the trade there are",
  description: "The name, title and source of each table.",
  request: { query: z.strictObject({}) },
  responses: { 200: jsonAnswer(ReferenceTables, "The tables"), ...queryProblems },
});

const one = createRoute({
  method: "get",
  path: "/v1/reference/{table}",
  operationId: "getReferenceTable",
  tags: ["reference"],
  summary: "One table of the trade",
  description: `Columns with their units, and rows with a member for each column. Tables: ${names.join(", ")}.`,
  request: {
    params: z.object({ table: z.string().max(64).openapi({ description: "Name of the table", example: names[0] }) }),
    query: z.strictObject({}),
  },
  responses: { 200: jsonAnswer(ReferenceTable, "The table"), ...notFoundProblem, ...queryProblems },
});

export const listReferenceTables = operation(list, () => json(operations.listReferenceTables()), {
  lifetime: "immutable",
});

export const getReferenceTable = operation(one, ({ params }) => json(operations.getReferenceTable(params)), {
  lifetime: "immutable",
});
