import type { HorizonProfile } from "@fieldstop/core/horizon";
import type { TideSource } from "./tide-station";

/** Where the eye is that sees a skyline. */
export interface Viewpoint {
  readonly latitude: number;
  readonly longitude: number;
  readonly elevationM?: number | undefined;
  readonly eyeHeightM?: number | undefined;
}

/** A skyline by elevation data, as far as answers need it. */
export interface TerrainFound {
  readonly profile: HorizonProfile;
  readonly source: { readonly name: string; readonly attribution?: string | undefined };
  readonly missingTiles: readonly {
    readonly name: string;
    readonly reason: string;
    readonly detail?: string | undefined;
    readonly azimuthsDeg: readonly (readonly [number, number])[];
  }[];
  readonly viewpoint: { readonly groundElevationM: number };
  readonly refractionCoefficient: number;
}

/** Skylines by elevation data; null where there is none for a place. What it throws as a `TileError` is a tile that cannot be used. */
export interface TerrainSource {
  /** @throws where the signal is aborted: nobody waits for it any more */
  horizonAt(
    viewpoint: Viewpoint,
    options?: { readonly signal?: AbortSignal | undefined },
  ): Promise<TerrainFound | null>;
  /** Heights of the ground at places close by [m]; null where none is known. Absent where only skylines can be had. */
  groundElevationsM?(places: readonly Viewpoint[]): Promise<readonly (number | null)[]>;
}

/** What an operation needs beside its request: the clock, time zones, terrain, tides. */
export interface Dependencies {
  /** Elevation data; absent where there is none. */
  readonly terrain?: TerrainSource;
  /** Tide stations; absent where there are none. */
  readonly tides?: TideSource;
  /** IANA zone of a place. */
  timeZoneAt(latitude: number, longitude: number): string;
  /** The present, in Unix milliseconds. */
  nowMs(): number;
  /** Aborted when nobody waits for the answer any more, so that long work need not go on; absent where somebody always does. */
  readonly signal?: AbortSignal;
}
