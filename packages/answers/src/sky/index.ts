export { type DewPointAsked, getDewPoint } from "./dew-point";
export { getMoonPosition } from "./moon";
export { getSunPosition, type SkyAsked } from "./sun";
