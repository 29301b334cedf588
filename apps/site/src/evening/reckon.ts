import type {
  CameraHeightInput,
  CameraHeights,
  OutingInput,
  OutingPlan,
  ProjectedSkyline,
  SkylineInput,
  SkyPosition,
} from "@fieldstop/sdk";

/** The calculations, in the page: they come after the first words, which do without them. */
const offline = import("./calculations");
offline.catch(() => undefined);

/** One evening or morning, planned. */
export async function plan(input: OutingInput): Promise<OutingPlan> {
  return (await offline).planOuting(input);
}

/** Where the sun stands over a place whose time zone is known. */
export async function sunAt(place: PlaceInTime, instant: string): Promise<SkyPosition> {
  const { latitude, longitude, elevationM, timeZone } = place;
  return (await offline).getSunPosition({
    latitude,
    longitude,
    timeZone,
    instant,
    ...(elevationM === undefined ? {} : { elevationM }),
  });
}

interface PlaceInTime {
  readonly latitude: number;
  readonly longitude: number;
  readonly elevationM?: number;
  readonly timeZone: string;
}

/** The skyline in a frame, and sun and moon in it. */
export async function frame(input: SkylineInput): Promise<ProjectedSkyline> {
  return (await offline).projectSkyline(input);
}

/** From which camera height a thing in front clears the ridge. */
export async function cameraHeights(input: CameraHeightInput): Promise<CameraHeights> {
  return (await offline).solveCameraHeight(input);
}
