import { queryNumber } from "../shared/numbers";

export const USUAL_WIDTH_PX = 800;
export const USUAL_DAYS = 7;

export const PictureWidth = queryNumber({
  min: 320,
  max: 2400,
  description: `Width that the picture is laid out for [px]; default ${USUAL_WIDTH_PX}`,
  example: 400,
});

export const CalendarDays = queryNumber({
  min: 1,
  max: 14,
  description: `How many days, from date on; default ${USUAL_DAYS}`,
  example: USUAL_DAYS,
})
  .refine(Number.isInteger, { message: "not a whole number", params: { allowed: "a whole number" } })
  .openapi({ type: "integer" });
