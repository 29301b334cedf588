import { type GeoKeys, toProj4 } from "geotiff-geokeys-to-proj4";
import proj4 from "proj4";
import { TileError } from "../tiles/tile-error";

/** Coordinates of a map projection and WGS 84 degrees, there and back; NaN outside what the projection shows. */
export interface Projection {
  /** What it is, for people: `EPSG:32629`. */
  readonly code: string;
  toDegrees(x: number, y: number): [longitude: number, latitude: number];
  fromDegrees(longitude: number, latitude: number): [x: number, y: number];
}

// EPSG registry: Popular Visualisation Pseudo-Mercator puts WGS 84 latitudes on a sphere on purpose
const WEB_MERCATOR = 3857;
const USER_DEFINED = 32767;
// WGS 84 and GRS 80 (Moritz 2000), half axes [m]: they differ by 0.1 mm
const SEMI_MAJOR_M = 6_378_137;
const SEMI_MINOR_M = 6_356_752.3142;

/**
 * The projection that a GeoTIFF's keys name.
 *
 * @param keys its geokeys, ProjectedCSTypeGeoKey among them
 * @throws TileError naming the file: a projection that is not known, or one of a datum that is not WGS 84 or within 2 m of it
 */
export function projectionOf(name: string, keys: Readonly<Record<string, unknown>>): Projection {
  const key = keys["ProjectedCSTypeGeoKey"];
  const code = key === undefined || key === USER_DEFINED ? "a user-defined projection" : `EPSG:${String(key)}`;
  const { proj4: definition, errors, isGCS, coordinatesConversionParameters: units } = conversionOf(name, code, keys);
  const faults = Object.keys(errors).filter((fault) => !/vertical/i.test(fault));
  if (faults.length > 0 || isGCS) throw new TileError(name, `the projection is not understood (${code})`);
  requireGlobalDatum(name, code, key, definition);
  // rasters count eastward and northward whatever the order of axes in the registry
  const converter = proj4(definition.replace(/\+axis=\w+ /, ""), "WGS84");
  return {
    code,
    toDegrees: (x, y) => pair(() => converter.forward([x * units.x, y * units.y])),
    fromDegrees: (longitude, latitude) => {
      const [x, y] = pair(() => converter.inverse([longitude, latitude]));
      return [x / units.x, y / units.y];
    },
  };
}

function conversionOf(name: string, code: string, keys: Readonly<Record<string, unknown>>) {
  try {
    return toProj4(keys as unknown as GeoKeys);
  } catch (error) {
    throw new TileError(name, `the projection is not understood (${code})`, { cause: error });
  }
}

function pair(convert: () => readonly number[]): [number, number] {
  try {
    const [a = Number.NaN, b = Number.NaN] = convert();
    return Number.isFinite(a + b) ? [a, b] : [Number.NaN, Number.NaN];
  } catch {
    return [Number.NaN, Number.NaN];
  }
}

/** The registry that is at hand leaves out shifts between datums, which reach hundreds of metres: only those of none are taken. */
function requireGlobalDatum(name: string, code: string, key: unknown, definition: string): void {
  if (key === WEB_MERCATOR) return;
  const value = (parameter: string) => Number(new RegExp(`\\+${parameter}=(-?[\\d.]+)`).exec(definition)?.[1]);
  const known = value("a") === SEMI_MAJOR_M && Math.abs(value("b") - SEMI_MINOR_M) < 0.01;
  if (known) return;
  throw new TileError(
    name,
    `${code} is of a datum that is not known to lie on WGS 84; reproject the file to EPSG:4326`,
  );
}
