/** A place to some ten kilometres: rounded to 0.1°. */
export type Near = readonly [latitude: number, longitude: number];

const LATITUDE = /(?:^|&)latitude=(-?\d{1,3}(?:\.\d+)?)(?:&|$)/;
const LONGITUDE = /(?:^|&)longitude=(-?\d{1,3}(?:\.\d+)?)(?:&|$)/;

/** Where a query asks about, about; null where it does not say. */
export function nearOf(query: string): Near | null {
  if (query === "") return null;
  const latitude = LATITUDE.exec(query)?.[1];
  const longitude = LONGITUDE.exec(query)?.[1];
  if (latitude === undefined || longitude === undefined) return null;
  return [coarse(latitude), coarse(longitude)];
}

/** The zero is never negative. */
function coarse(degrees: string): number {
  return Math.round(Number(degrees) * 10) / 10 + 0;
}
