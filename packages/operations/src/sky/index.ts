export { type DewPointRequest, getDewPoint } from "./dew-point";
export { getMoonPosition } from "./moon";
export { getSunPosition, type SkyRequest } from "./sun";
