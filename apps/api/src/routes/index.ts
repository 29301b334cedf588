import { findLightWindows, findLightWindowsFromBody } from "./light-windows";
import { getSunPosition } from "./sun";

/** Every operation of the API, in the order of the document. */
export const operations = [getSunPosition, findLightWindows, findLightWindowsFromBody] as const;
