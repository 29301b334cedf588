import { z } from "@hono/zod-openapi";

/** An instant in a request. Its form is checked by core, which names what is allowed. */
export const InstantInput = z
  .string()
  .max(40)
  .openapi({ format: "date-time", description: "RFC 3339 with an offset", example: "2027-03-20T18:30:00+00:00" });

/** An instant in an answer, with the offset of the place. */
export const Instant = z.string().openapi({
  format: "date-time",
  description: "RFC 3339 with the offset of the place",
  example: "2027-03-20T18:30:00+00:00",
});

/** A calendar day in a request. Its form is checked by core. */
export const DateInput = z.string().max(20).openapi({
  format: "date",
  description: "The local calendar day at the place, YYYY-MM-DD; default: today there",
  example: "2027-03-20",
});
