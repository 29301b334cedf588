import places from "../../../demo/places.json";

/** A place that the club photographs from. */
export interface Spot {
  readonly id: string;
  readonly name: string;
  readonly latitude: number;
  readonly longitude: number;
  readonly elevationM?: number;
  /** Looked up by the service where it is not known. */
  readonly timeZone?: string;
  readonly part: "evening" | "morning";
  readonly cameraAzimuthDeg: number;
  readonly photographs?: string;
}

const spots = places as readonly Spot[];

/** The spots of tonight's page, in its order. */
export const TONIGHT_SPOTS: readonly Spot[] = ["strand", "slack-view", "gannet-head"].map((id) => {
  const spot = spots.find((one) => one.id === id);
  if (spot === undefined) throw new Error(`no spot is called ${id}`);
  return spot;
});

/** A spot by its id, or any place on earth by `latitude` and `longitude` of an address's query. */
export function spotFromQuery(query: URLSearchParams): Spot | null {
  const id = query.get("spot");
  if (id !== null) return spots.find((one) => one.id === id) ?? null;
  const latitude = within(query.get("latitude"), -90, 90);
  const longitude = within(query.get("longitude"), -180, 180);
  if (latitude === null || longitude === null) return query.has("latitude") ? null : (TONIGHT_SPOTS[0] ?? null);
  const timeZone = query.get("timeZone");
  return {
    id: "",
    name: query.get("name")?.slice(0, 80) || `${latitude}, ${longitude}`,
    latitude,
    longitude,
    ...(timeZone === null ? {} : { timeZone }),
    part: query.get("session") === "morning" ? "morning" : "evening",
    cameraAzimuthDeg: within(query.get("azimuth"), 0, 360) ?? (latitude < 0 ? 330 : 250),
  };
}

/** The query that leads to a spot's own page. */
export function queryOfSpot(spot: Spot, date?: string): string {
  const query = new URLSearchParams(
    spot.id === ""
      ? {
          latitude: String(spot.latitude),
          longitude: String(spot.longitude),
          name: spot.name,
          azimuth: String(spot.cameraAzimuthDeg),
          ...(spot.timeZone === undefined ? {} : { timeZone: spot.timeZone }),
        }
      : { spot: spot.id },
  );
  if (date !== undefined) query.set("date", date);
  return query.toString();
}

function within(text: string | null, least: number, most: number): number | null {
  const value = text === null || text.trim() === "" ? Number.NaN : Number(text);
  return value >= least && value <= most ? value : null;
}
