import { z } from "@hono/zod-openapi";

export const LanguageInput = z
  .string()
  .max(80, { abort: true })
  .regex(/^[A-Za-z]{1,8}(-[A-Za-z0-9]{1,8}){0,8}$/, "not a language tag")
  .openapi({
    description:
      "Language tag of the words (RFC 5646); default en. Where there is no table for it: Content-Language tells",
    example: "en",
  });
