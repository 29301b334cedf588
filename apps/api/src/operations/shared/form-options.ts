import { queryNumber } from "./numbers";

export const DEFAULT_WIDTH_PX = 800;
export const DEFAULT_DAYS = 7;

export const PictureWidth = queryNumber({
  min: 320,
  max: 2400,
  description: `Width that the picture is laid out for [px]; default ${DEFAULT_WIDTH_PX}`,
  example: 400,
});

export const CalendarDays = queryNumber({
  min: 1,
  max: 14,
  description: `How many days, from date on; default ${DEFAULT_DAYS}`,
  example: DEFAULT_DAYS,
})
  .refine(Number.isInteger, { message: "not a whole number", params: { allowed: "a whole number" } })
  .openapi({ type: "integer" });
