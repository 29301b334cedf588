import { findAlignments } from "./alignments";
import { planBracket } from "./brackets/plan";
import { reviewBracket } from "./brackets/review";
import { reviewBracketPhotos } from "./brackets/review-photos";
import { getDewPoint } from "./dew-point";
import { listEquivalents } from "./exposures/equivalents";
import { solveLongExposure } from "./exposures/long";
import { solveExposure } from "./exposures/solve";
import { assessGraduated } from "./filters/graduated";
import { assessPolarizer } from "./filters/polarizer";
import { selectFilters } from "./filters/select";
import { stackFilters } from "./filters/stack";
import { getForecast } from "./forecast";
import { drawForecast, listForecastCalendar, writeForecastMarkdown, writeForecastText } from "./forecast-forms";
import { streamForecasts } from "./forecasts";
import { solveCameraHeight } from "./framing/camera-height";
import { getHorizon } from "./horizon";
import { drawHorizon } from "./horizon-picture";
import { drawLightLevels, traceLightLevels } from "./light-levels";
import { findLightWindows, findLightWindowsFromBody } from "./light-windows";
import { drawLightWindows, listLightCalendar } from "./light-windows-forms";
import { getMoonPosition } from "./moon";
import { getAngleOfView } from "./optics/angle-of-view";
import { getDepthOfField } from "./optics/depth-of-field";
import { planFocusStack } from "./optics/focus-stack";
import { planPanorama } from "./optics/panorama";
import { compareOutings } from "./outings/compare";
import { planOuting } from "./outings/plan";
import { getReferenceTable, listReferenceTables } from "./reference";
import { drawSkyline, projectSkyline } from "./skyline";
import { getSunPosition } from "./sun";
import { listTideStations, predictTides } from "./tides";

/** Every operation of the API, in the order of the document. */
export const operations = [
  getSunPosition,
  getMoonPosition,
  getDewPoint,
  findLightWindows,
  findLightWindowsFromBody,
  drawLightWindows,
  listLightCalendar,
  traceLightLevels,
  drawLightLevels,
  findAlignments,
  getHorizon,
  drawHorizon,
  projectSkyline,
  drawSkyline,
  solveCameraHeight,
  listTideStations,
  predictTides,
  solveExposure,
  listEquivalents,
  solveLongExposure,
  stackFilters,
  selectFilters,
  assessPolarizer,
  assessGraduated,
  planBracket,
  reviewBracket,
  reviewBracketPhotos,
  getDepthOfField,
  planFocusStack,
  getAngleOfView,
  planPanorama,
  planOuting,
  compareOutings,
  getForecast,
  drawForecast,
  listForecastCalendar,
  writeForecastMarkdown,
  writeForecastText,
  streamForecasts,
  listReferenceTables,
  getReferenceTable,
] as const;
