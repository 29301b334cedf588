import { z } from "@hono/zod-openapi";

const FieldError = z
  .object({
    pointer: z.string().openapi({
      description: "A JSON Pointer into the body, query:name, or form:part and the place in it",
      example: "query:latitude",
    }),
    detail: z.string(),
    received: z.unknown().optional().openapi({ description: "What came, cut short" }),
    allowed: z.string().optional().openapi({ description: "What is allowed, as a phrase" }),
  })
  .openapi("FieldError");

/** RFC 9457 problem details. */
export const Problem = z
  .object({
    type: z
      .string()
      .openapi({ description: "A stable URI path with a page that explains it", example: "/problems/invalid-input" }),
    title: z.string(),
    status: z.int(),
    detail: z.string(),
    instance: z.string().openapi({ description: "The path that was asked" }),
    errors: z.array(FieldError).optional(),
    requestId: z.string().optional(),
  })
  .openapi("Problem");
