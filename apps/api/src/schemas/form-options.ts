import { queryNumber } from "./numbers";

export const PictureWidth = queryNumber({
  min: 320,
  max: 2400,
  description: "Width that the picture is laid out for [px]; default 800",
  example: 400,
});

export const CalendarDays = queryNumber({
  min: 1,
  max: 14,
  description: "How many days, from date on; default 7",
  example: 7,
})
  .refine(Number.isInteger, { message: "not a whole number", params: { allowed: "a whole number" } })
  .openapi({ type: "integer" });
