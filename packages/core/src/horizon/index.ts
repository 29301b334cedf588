export { type HorizonProfile, horizonAltitudeDeg } from "./profile";
