import type { BreakingChange } from "./breaking-changes";

/** Those whose bodies have rules between their fields. */
const OPERATIONS = [
  "exposures/solve",
  "exposures/equivalents",
  "exposures/long",
  "filters/stack",
  "filters/select",
  "filters/polarizer",
  "framing/camera-height",
  "light-levels",
  "light-levels.svg",
  "optics/depth-of-field",
  "optics/focus-stack",
  "optics/angle-of-view",
];

/**
 * Rules that the service enforced from the first and the contract says only since: no request that was answered is refused for them, so that callers lose
 * nothing. Each is the end of a place in the document where it was added; whatever is changed there later counts.
 */
const SAID_LATER: readonly string[] = [
  // one strength for a filter, and not less light than its densest lets through
  "filters/items/oneOf/0/not",
  "filters/items/oneOf/1/not",
  "available/items/not",
  "transmittancePercent/minimum",
  // a latitude with a longitude, a slope with a facing
  "subject/not",
  // one way down to the noise floor
  "camera/not",
  // one way of giving a light, a blur, a speed, a sharpness, a span; what needs something else beside it
  ...OPERATIONS.map((path) => `/v1/${path}/post/requestBody/content/application/json/schema/not`),
  "things/items/not",
  // lights, distances and times of nothing were never taken
  "luminanceCdPerM2/exclusiveMinimum",
  "illuminanceLux/exclusiveMinimum",
  "shutterAngleDeg/exclusiveMinimum",
  "blurPx/exclusiveMinimum",
  "budgetPx/exclusiveMinimum",
  "distanceM/exclusiveMinimum",
  "nearM/exclusiveMinimum",
  "farM/anyOf/0/exclusiveMinimum",
  "wantedNearM/exclusiveMinimum",
  "wantedFarM/anyOf/0/exclusiveMinimum",
  "focusDistanceM/anyOf/0/exclusiveMinimum",
  // the form of a text, and the length that the pattern of a language tag comes to
  "cropAspect/pattern",
  "dates/items/format",
  "parameters/10/schema/maxLength",
  "parameters/23/schema/maxLength",
  "lang/maxLength",
  // a filter in the frame needs to know which way the camera points
  "/v1/filters/graduated/post/requestBody/content/application/json/schema/properties/camera/required/0",
  "/v1/filters/polarizer/post/requestBody/content/application/json/schema/properties/camera/required/0",
];

/** Whether a change says but what always held. */
export function isSaidLater({ at, change }: BreakingChange): boolean {
  return change === "add" && SAID_LATER.some((end) => at.endsWith(`/${end.replace(/^\//, "")}`));
}
