import type { HorizonProfile } from "@fieldstop/core";

/** A skyline that elevation data gives for a viewpoint. */
export interface TerrainHorizon {
  readonly profile: HorizonProfile;
  readonly viewpoint: {
    readonly latitude: number;
    readonly longitude: number;
    readonly groundElevationM: number;
    readonly eyeHeightM: number;
  };
  readonly skyViewFactor: number;
  readonly source: { readonly name: string; readonly resolutionM: number; readonly attribution?: string };
  readonly missingTiles: readonly {
    readonly name: string;
    readonly reason: "absent" | "unreadable";
    readonly detail?: string;
    readonly azimuthsDeg: readonly (readonly [number, number])[];
  }[];
  readonly uncertainAzimuthsDeg: readonly (readonly [number, number])[];
  readonly refractionCoefficient: number;
}

/** Elevation data, as routes need it. */
export interface Terrain {
  /** Null where no elevation data covers the viewpoint. */
  horizonAt(
    viewpoint: { latitude: number; longitude: number; elevationM?: number; eyeHeightM?: number },
    options?: { stepDeg?: number; radiusKm?: number },
  ): Promise<TerrainHorizon | null>;
}

/** What routes need from outside, handed in once, so that they can be tested without files, clocks or networks. */
export interface Services {
  /** Elevation data; absent where the service runs without any. */
  readonly terrain?: Terrain;
  /** IANA zone of a place. */
  timeZoneAt(latitude: number, longitude: number): string;
  /** The present, in Unix milliseconds. */
  nowMs(): number;
  /** Told of every fault, with the id of the request that met it. */
  reportFault(error: unknown, requestId: string): void;
}
