import { createRoute, z } from "@hono/zod-openapi";
import { jsonAnswer, notFoundProblem, operation, queryProblems } from "../http/operation";
import { rounded } from "../http/rounding";
import { ProblemError } from "../problems/problem";
import { REFERENCE_TABLES } from "../reference/tables";
import { ReferenceTable, ReferenceTables } from "../schemas/reference";

const names = [...REFERENCE_TABLES.keys()];

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

export const listReferenceTables = operation(list, (c) => {
  const tables = [...REFERENCE_TABLES.values()].map(({ name, title, source, rows }) => {
    return { name, title, source, rowCount: rows.length };
  });
  return c.json({ tables }, 200);
});

export const getReferenceTable = operation(one, (c) => {
  const { table: name } = c.req.valid("param");
  const table = REFERENCE_TABLES.get(name);
  if (table === undefined) {
    throw new ProblemError("not-found", { detail: `There is no such table; there are: ${names.join(", ")}.` });
  }
  return c.json(rounded(table), 200);
});
