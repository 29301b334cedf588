export { getAngleOfView } from "./angle-of-view";
export { getDepthOfField } from "./depth-of-field";
export { planFocusStack } from "./focus-stack";
export { planPanorama } from "./panorama";
