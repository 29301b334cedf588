import { getHorizon, type HorizonInput, isProblem } from "@fieldstop/sdk";
import type { Spot } from "../club";
import { keepingClient } from "./service";

/** The skyline round a spot, as the service scanned it from its terrain; or that of the sea, where it has none. */
export interface Ridge {
  readonly azimuthsDeg: readonly number[];
  readonly altitudesDeg: readonly number[];
  readonly distancesM: readonly number[];
  /** As an input of the calculations. */
  readonly horizon: HorizonInput;
  /** Height of the ground [m]. */
  readonly elevationM: number;
  /** Whether terrain is in it at all. */
  readonly terrain: boolean;
  /** What the elevation data ask to be shown with them. */
  readonly attribution?: string;
}

/** Fetched once for a spot, and kept on the device. */
export async function loadRidge(spot: Spot): Promise<Ridge> {
  try {
    const { latitude, longitude } = spot;
    const answer = await getHorizon({ client: keepingClient(), query: { latitude, longitude } });
    const { azimuthsDeg, altitudesDeg, distancesM, viewpoint, source } = answer;
    const points = azimuthsDeg.map((azimuthDeg, i) => ({
      azimuthDeg,
      altitudeDeg: altitudesDeg[i] ?? 0,
      distanceM: distancesM[i] ?? 0,
    }));
    return {
      azimuthsDeg,
      altitudesDeg,
      distancesM,
      horizon: { kind: "profile", points },
      elevationM: viewpoint.groundElevationM,
      terrain: true,
      ...(source.attribution === undefined ? {} : { attribution: source.attribution }),
    };
  } catch (error) {
    if (isProblem(error) && error.status === 422) return openHorizon(spot);
    throw error;
  }
}

function openHorizon(spot: Spot): Ridge {
  const azimuthsDeg = Array.from({ length: 72 }, (_, i) => i * 5);
  return {
    azimuthsDeg,
    altitudesDeg: azimuthsDeg.map(() => 0),
    distancesM: azimuthsDeg.map(() => 5_000),
    horizon: { kind: "flat" },
    elevationM: spot.elevationM ?? 0,
    terrain: false,
  };
}

/** Altitude of the skyline in one direction [deg], between the directions that it is known in. */
export function ridgeAltitudeDeg({ azimuthsDeg, altitudesDeg }: Ridge, azimuthDeg: number): number {
  const count = azimuthsDeg.length;
  const azimuth = ((azimuthDeg % 360) + 360) % 360;
  let low = 0;
  let high = count;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    if ((azimuthsDeg[middle] as number) <= azimuth) low = middle;
    else high = middle;
  }
  const next = (low + 1) % count;
  const from = azimuthsDeg[low] as number;
  const width = ((azimuthsDeg[next] as number) - from + 360) % 360 || 360;
  const share = ((((azimuth - from) % 360) + 360) % 360) / width;
  return (altitudesDeg[low] as number) * (1 - share) + (altitudesDeg[next] as number) * share;
}
