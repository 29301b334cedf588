export { altitudeExtremes, type Extreme, lowerTransits, upperTransits } from "./culminations";
export {
  ASTRONOMICAL_TWILIGHT_DEG,
  CIVIL_TWILIGHT_DEG,
  type DayEvents,
  dayEvents,
  NAUTICAL_TWILIGHT_DEG,
  type SkyEvent,
  type SkyEventName,
} from "./day-events";
export type { Observer, SkyPosition } from "./horizontal";
export {
  type MoonPhase,
  type MoonPhaseName,
  type MoonPosition,
  moonPhase,
  moonPosition,
  moonSemidiameterDeg,
} from "./moon";
export { type Atmosphere, refractionDeg, trueFromApparentDeg } from "./refraction";
export {
  type AltitudeCrossing,
  type AltitudeCrossings,
  dipDeg,
  findAltitudeCrossings,
  HORIZON_REFRACTION_DEG,
  SUN_SEMIDIAMETER_DEG,
  sunriseAltitudeDeg,
} from "./rise-set";
export { sunPosition } from "./sun";
export { moonTrack, type SkyTrack, sunTrack } from "./track";
export {
  BLUE_HOUR_DEG,
  GOLDEN_HOUR_DEG,
  type TwilightBounds,
  type TwilightKind,
  type TwilightWindow,
  twilightWindows,
} from "./twilight";
