export { altitudeExtremes, type Extreme, lowerTransits, upperTransits } from "./culminations";
export { type DayEvents, dayEvents, type SkyEvent, type SkyEventName } from "./day-events";
export { dipDeg } from "./dip";
export { BLUE_HOUR_DEG, GOLDEN_HOUR_DEG, type TwilightBounds } from "./golden-hour";
export { type AltitudeCrossing, type AltitudeCrossings, findAltitudeCrossings, sunriseAltitudeDeg } from "./rise-set";
export {
  ASTRONOMICAL_TWILIGHT_DEG,
  CIVIL_TWILIGHT_DEG,
  NAUTICAL_TWILIGHT_DEG,
  type TwilightKind,
  type TwilightWindow,
  twilightWindows,
} from "./twilight";
