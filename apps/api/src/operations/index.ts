import { planBracket } from "./brackets/plan";
import { reviewBracket } from "./brackets/review";
import { reviewBracketPhotos } from "./brackets/review-photos";
import { listEquivalents } from "./exposure/equivalents";
import { solveLongExposure } from "./exposure/long";
import { solveExposure } from "./exposure/solve";
import { assessGraduated } from "./filters/graduated";
import { assessPolarizer } from "./filters/polarizer";
import { selectFilters } from "./filters/select";
import { stackFilters } from "./filters/stack";
import { getForecast } from "./forecast/forecast";
import {
  drawForecast,
  listForecastCalendar,
  writeForecastMarkdown,
  writeForecastText,
} from "./forecast/forecast-forms";
import { streamForecasts } from "./forecast/forecasts";
import { solveCameraHeight } from "./framing/camera-height";
import { drawSkyline, projectSkyline } from "./framing/skyline";
import { getHorizon } from "./horizon/horizon";
import { drawHorizon } from "./horizon/horizon-picture";
import { findAlignments } from "./light/alignments";
import { drawLightLevels, traceLightLevels } from "./light/light-levels";
import { findLightWindows, findLightWindowsFromBody } from "./light/light-windows";
import { drawLightWindows, listLightCalendar } from "./light/light-windows-forms";
import { getAngleOfView } from "./optics/angle-of-view";
import { getDepthOfField } from "./optics/depth-of-field";
import { planFocusStack } from "./optics/focus-stack";
import { planPanorama } from "./optics/panorama";
import { compareOutings } from "./outings/compare";
import { planOuting } from "./outings/plan";
import { getReferenceTable, listReferenceTables } from "./reference/reference";
import { getDewPoint } from "./sky/dew-point";
import { getMoonPosition } from "./sky/moon";
import { getSunPosition } from "./sky/sun";
import { listTideStations, predictTides } from "./water/tides";

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
