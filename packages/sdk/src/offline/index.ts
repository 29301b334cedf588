export { FieldstopProblem, isProblem } from "../problem.js";
export { planBracket, reviewBracket, reviewBracketPhotos } from "./brackets.js";
export { listEquivalents, solveExposure, solveLongExposure } from "./exposure.js";
export { createOfflineFieldstop } from "./fieldstop.js";
export { assessGraduated, assessPolarizer, selectFilters, stackFilters } from "./filters.js";
export {
  drawForecast,
  getForecast,
  listForecastCalendar,
  streamForecasts,
  writeForecastMarkdown,
  writeForecastText,
} from "./forecast.js";
export { drawSkyline, projectSkyline, solveCameraHeight } from "./framing.js";
export { drawHorizon, getHorizon } from "./horizon.js";
export {
  drawLightLevels,
  drawLightWindows,
  findAlignments,
  findLightWindows,
  findLightWindowsFromBody,
  listLightCalendar,
  traceLightLevels,
} from "./light.js";
export { getAngleOfView, getDepthOfField, planFocusStack, planPanorama } from "./optics.js";
export type { OfflineOptions } from "./options.js";
export { compareOutings, planOuting } from "./outings.js";
export { getReferenceTable, listReferenceTables } from "./reference.js";
export { getDewPoint, getMoonPosition, getSunPosition } from "./sky.js";
export { listTideStations, predictTides } from "./water.js";
