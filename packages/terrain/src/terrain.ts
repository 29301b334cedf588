import type { HorizonProfile } from "@fieldstop/core/horizon";
import type { HighestGround } from "./highest-near";
import type { HorizonQuestion } from "./skylines/horizon-question";

export interface TerrainViewpoint {
  /** [deg], -90 to 90 */
  readonly latitude: number;
  /** [deg], -180 to 180 */
  readonly longitude: number;
  /** Height of the ground [m], where it is known better than the tiles know it; never taken lower than they say. */
  readonly elevationM?: number | undefined;
  /** Height of the eye above the ground [m], 0.5 to 1000; default 1.6. */
  readonly eyeHeightM?: number | undefined;
}

export interface TerrainOptions {
  /**
   * Even step round the compass [deg], 0.05 to 30; default 0.25, and closer where a look between shows that straight lines miss the
   * skyline by 0.01°. A narrow peak between two looks can still stand higher.
   */
  readonly stepDeg?: number | undefined;
  /** How far to look [km], 0.1 to 400; default 150, less where nothing farther could rise. */
  readonly radiusKm?: number | undefined;
  /** Aborted where the caller waits no longer: the skyline is given up when nobody else wants it either. Not looked at for one that is kept. */
  readonly signal?: AbortSignal | undefined;
}

/** A tile that the answer lacks: none for that degree cell (`absent`), or one that cannot be used (`unreadable`). */
export interface MissingTile {
  readonly name: string;
  readonly reason: "absent" | "unreadable";
  readonly detail?: string;
  /** Ranges of azimuth that it could matter for, clockwise [deg]. */
  readonly azimuthsDeg: readonly (readonly [number, number])[];
}

export interface TerrainHorizon {
  readonly profile: HorizonProfile & { readonly distancesM: readonly number[] };
  readonly viewpoint: {
    readonly latitude: number;
    readonly longitude: number;
    readonly groundElevationM: number;
    readonly eyeHeightM: number;
  };
  readonly skyViewFactor: number;
  readonly source: { readonly name: string; readonly resolutionM: number; readonly attribution?: string };
  /** Only tiles that could raise the skyline, among them every file whose place cannot be told. */
  readonly missingTiles: readonly MissingTile[];
  /** Ranges of azimuth in which unknown ground could stand above the skyline, clockwise [deg]. */
  readonly uncertainAzimuthsDeg: readonly (readonly [number, number])[];
  readonly refractionCoefficient: number;
  /**
   * Tells this answer from every other: the same for the same question over the same data, in every process. Absent where the answer
   * may change by itself, since a tile could not be read.
   */
  readonly key?: string;
}

export interface GroundPoint {
  readonly latitude: number;
  readonly longitude: number;
}

export interface Terrain {
  /**
   * The skyline round a viewpoint; null where no elevation data covers it.
   * @throws DomainError naming the field; TileError where the tile at the viewpoint itself cannot be used
   */
  horizonAt(viewpoint: TerrainViewpoint, options?: TerrainOptions): Promise<TerrainHorizon | null>;
  /** Height of the ground [m]; null where no elevation data covers it, or in a void. */
  groundElevationM(latitude: number, longitude: number): Promise<number | null>;
  /**
   * Heights of the ground at places close by [m]: those that the tiles under the first of them know; null for the others.
   * @throws TileError where none of these tiles can be used
   */
  groundElevationsM(places: readonly GroundPoint[]): Promise<readonly (number | null)[]>;
  /**
   * The highest ground that the data have near a place: a summit's own coordinates mostly miss its highest node. Null where no elevation
   * data covers it.
   * @param withinM how far it may lie [m], 1 to 1000
   */
  highestNear(latitude: number, longitude: number, withinM: number): Promise<HighestGround | null>;
  /** Changes when a tile does. */
  readonly dataVersion: string;
}

/** Where elevation data come from, and whether it can be had from there now. */
export interface ElevationSource {
  /** A URL without its query, or a folder's own name. */
  readonly name: string;
  /** Away: several requests in a row failed; it is tried again from time to time. */
  readonly state: "ok" | "away";
}

export interface TerrainSources {
  /** The sources in order of preference. */
  sources(): readonly ElevationSource[];
}

/** Terrain that finds skylines for others, too. */
export interface SharedTerrain extends Terrain, TerrainSources {
  /** Finds a skyline and stores it for every process that shares the horizon store, unless it is stored already. */
  findAndKeep(question: HorizonQuestion): Promise<void>;
}
