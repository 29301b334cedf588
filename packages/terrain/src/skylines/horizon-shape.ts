import type { TerrainHorizon } from "../terrain";

const isNumber = (value: unknown): boolean => Number.isFinite(value);
const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === "object" && value !== null && !Array.isArray(value);
const isList = (value: unknown, isMember: (member: unknown) => boolean): value is readonly unknown[] =>
  Array.isArray(value) && value.every(isMember);
const isRange = (value: unknown): boolean => isList(value, isNumber) && value.length === 2;
const isText = (value: unknown): boolean => typeof value === "string";
const isTextOrAbsent = (value: unknown): boolean => value === undefined || isText(value);

/** Whether something read back from a store is a skyline with all that is computed with. */
export function isTerrainHorizon(value: unknown): value is TerrainHorizon {
  if (!isObject(value)) return false;
  const { profile, viewpoint, skyViewFactor, source, missingTiles, uncertainAzimuthsDeg, refractionCoefficient, key } =
    value;
  return (
    isProfile(profile) &&
    isObject(viewpoint) &&
    ["latitude", "longitude", "groundElevationM", "eyeHeightM"].every((name) => isNumber(viewpoint[name])) &&
    isNumber(skyViewFactor) &&
    isObject(source) &&
    isText(source["name"]) &&
    isNumber(source["resolutionM"]) &&
    isTextOrAbsent(source["attribution"]) &&
    isList(missingTiles, isMissingTile) &&
    isList(uncertainAzimuthsDeg, isRange) &&
    isNumber(refractionCoefficient) &&
    isTextOrAbsent(key)
  );
}

function isProfile(value: unknown): boolean {
  if (!isObject(value)) return false;
  const { azimuthsDeg, altitudesDeg, distancesM } = value;
  if (!isList(azimuthsDeg, isAzimuth) || !isList(altitudesDeg, isAltitude) || !isList(distancesM, isNumber))
    return false;
  return (
    azimuthsDeg.length > 0 &&
    altitudesDeg.length === azimuthsDeg.length &&
    distancesM.length === azimuthsDeg.length &&
    azimuthsDeg.every((azimuth, i) => i === 0 || (azimuth as number) > (azimuthsDeg[i - 1] as number))
  );
}

const isAzimuth = (value: unknown): boolean => isNumber(value) && (value as number) >= 0 && (value as number) < 360;
const isAltitude = (value: unknown): boolean => isNumber(value) && Math.abs(value as number) <= 90;

function isMissingTile(value: unknown): boolean {
  if (!isObject(value)) return false;
  const { name, reason, detail, azimuthsDeg } = value;
  return (
    isText(name) &&
    (reason === "absent" || reason === "unreadable") &&
    isTextOrAbsent(detail) &&
    isList(azimuthsDeg, isRange)
  );
}
