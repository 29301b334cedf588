/** A point on the island's own map: kilometres east and north of a spot in the bay, near the island's middle. */
export interface MapPoint {
  readonly eastKm: number;
  readonly northKm: number;
}

// The map is laid so that 56.6 N, 9.4 W falls on the upper beach of the strand.
const STRAND = { latitude: 56.6, longitude: -9.4, eastKm: 0.77, northKm: -0.11 };

// WGS 84 (NIMA TR8350.2, 2000): a = 6378.137 km, 1/f = 298.257223563. Length of a degree along the meridian and along the
// parallel at 56.6 N, written out, since trigonometric functions may differ in the last bit from one engine to the next
// and the tiles must come out the same everywhere.
const KM_PER_DEGREE_LATITUDE = 111.35268819904;
const KM_PER_DEGREE_LONGITUDE = 61.42269586347525;

/** Where a latitude and longitude [deg] lie on the map. Flat: across the island it is out by less than 10 m. */
export function toMap(latitude: number, longitude: number): MapPoint {
  return {
    eastKm: STRAND.eastKm + (longitude - STRAND.longitude) * KM_PER_DEGREE_LONGITUDE,
    northKm: STRAND.northKm + (latitude - STRAND.latitude) * KM_PER_DEGREE_LATITUDE,
  };
}
