import { setTimeout as delay } from "node:timers/promises";
import { requireInRange } from "@fieldstop/core";
import {
  compassAzimuthsDeg,
  ElevationGrid,
  type HorizonProfile,
  type HorizonScan,
  REFRACTION_COEFFICIENT,
  skyViewFactor,
} from "@fieldstop/core/horizon";
import { LRUCache } from "lru-cache";
import type { ByteStore } from "./byte-store";
import { degreesOf, type HighestGround, highestNear } from "./highest-near";
import { REMOTE_AGE_MS } from "./remote/remote-age";
import { SharedResult, untilAborted } from "./shared-result";
import { azimuthRanges } from "./skylines/azimuth-ranges";
import { gatherScan } from "./skylines/gather-scan";
import { type HorizonQuestion, horizonKey, questionLine } from "./skylines/horizon-question";
import { KeptHorizons } from "./skylines/kept-horizons";
import type { TerrainWork } from "./terrain-work";
import { boxAround, cellName } from "./tiles/degree-cell";
import { isPreparedFault } from "./tiles/prepared-blocks";
import { sharedGrid } from "./tiles/shared-grid";
import { TileError } from "./tiles/tile-error";
import type { TileIndex, UnplacedTile } from "./tiles/tile-ref";
import type { TileStore } from "./tiles/tile-store";

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
  /** Aborted where the caller waits no longer: the skyline is given up when nobody else wants it either. */
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

export interface Terrain {
  /**
   * The skyline round a viewpoint; null where no elevation data covers it.
   * @throws DomainError naming the field; TileError where the tile at the viewpoint itself cannot be used
   */
  horizonAt(viewpoint: TerrainViewpoint, options?: TerrainOptions): Promise<TerrainHorizon | null>;
  /** Height of the ground [m]; null where no elevation data covers it, or in a void. */
  groundElevationM(latitude: number, longitude: number): Promise<number | null>;
  /**
   * The highest ground that the data have near a place: a summit's own coordinates mostly miss its highest node. Null where no elevation
   * data covers it.
   * @param withinM how far it may lie [m], 1 to 1000
   */
  highestNear(latitude: number, longitude: number, withinM: number): Promise<HighestGround | null>;
  /** Changes when a tile does. */
  readonly dataVersion: string;
}

/** Terrain that finds skylines for others, too. */
export interface SharedTerrain extends Terrain {
  /** Finds a skyline by itself for whoever shares the horizon store, and keeps it there, unless it is there already. */
  findAndKeep(question: HorizonQuestion): Promise<void>;
}

const DEFAULT_EYE_HEIGHT_M = 1.6;
const DEFAULT_STEP_DEG = 0.25;
const DEFAULT_RADIUS_KM = 150;
/** How long a request waits for files that have no place yet [ms]. */
const LOOK_AGAIN_MS = 2000;
/** Finished skylines kept: some 40 kB each. */
const KEPT_HORIZONS = 500;

/** Has a skyline found once for all who share the horizon store; settles when it is kept there, or had better be found here. */
export type FindElsewhere = (question: HorizonQuestion) => Promise<void>;

function questionOf(viewpoint: TerrainViewpoint, options: TerrainOptions): HorizonQuestion {
  return {
    latitude: viewpoint.latitude,
    longitude: viewpoint.longitude,
    elevationM: viewpoint.elevationM,
    eyeHeightM: viewpoint.eyeHeightM ?? DEFAULT_EYE_HEIGHT_M,
    stepDeg: options.stepDeg ?? DEFAULT_STEP_DEG,
    refined: options.stepDeg === undefined,
    radiusKm: options.radiusKm ?? DEFAULT_RADIUS_KM,
  };
}

/** Skylines from the tiles of sources that were opened before. */
export class TileTerrain implements SharedTerrain {
  readonly #store: TileStore;
  readonly #work: TerrainWork;
  readonly #kept: KeptHorizons | undefined;
  readonly #elsewhere: FindElsewhere | undefined;
  readonly #horizons: LRUCache<string, { readonly answer: TerrainHorizon | null }>;
  /** Skylines that are being found. */
  readonly #underWay = new Map<string, SharedResult<TerrainHorizon | null>>();

  constructor(
    indexes: readonly TileIndex[],
    store: TileStore,
    work: TerrainWork,
    horizonStore: ByteStore | undefined,
    elsewhere?: FindElsewhere,
  ) {
    this.#elsewhere = elsewhere;
    this.#store = store;
    this.#work = work;
    const asked = indexes.some(({ tilesIn }) => tilesIn !== undefined);
    const isRemote = indexes.some((index) => index.isRemote);
    this.#kept = horizonStore && new KeptHorizons(horizonStore, { asked, isRemote });
    this.#horizons = new LRUCache({
      max: KEPT_HORIZONS,
      ...(isRemote && { ttl: REMOTE_AGE_MS }),
    });
  }

  get dataVersion(): string {
    return this.#store.version;
  }

  async horizonAt(viewpoint: TerrainViewpoint, options: TerrainOptions = {}): Promise<TerrainHorizon | null> {
    const { unplaced: before } = this.#store;
    if (before.length > 0) await this.#lookAgain();
    options.signal?.throwIfAborted();
    const question = questionOf(viewpoint, options);
    const line = questionLine(question);
    const kept = this.#horizons.get(line);
    const answer = kept === undefined ? await this.#findOnce(line, question).wait(options.signal) : kept.answer;
    const { unplaced } = this.#store;
    if (unplaced.length === 0) return answer;
    if (answer === null) {
      const passing = unplaced.find((tile) => tile.passing);
      // it may well be the one that covers this place
      if (passing !== undefined) throw new TileError(passing.name, passing.reason);
      return null;
    }
    const { key: _placed, ...known } = answer;
    return { ...known, missingTiles: [...answer.missingTiles, ...unplaced.map(missingAnywhere)] };
  }

  async findAndKeep(question: HorizonQuestion): Promise<void> {
    const line = questionLine(question);
    const key = horizonKey(line, this.dataVersion);
    if (await this.#kept?.get(key)) return;
    const answer = await this.#findHere(line, question);
    if (answer?.key !== undefined) await this.#kept?.set(answer.key, answer);
  }

  /** Requests that meet share one skyline. */
  #findOnce(line: string, question: HorizonQuestion): SharedResult<TerrainHorizon | null> {
    const underWay = this.#underWay.get(line);
    // who comes when the others have just gone begins anew
    if (underWay !== undefined && !underWay.isGivenUp) return underWay;
    const shared: SharedResult<TerrainHorizon | null> = new SharedResult(async (signal) => {
      try {
        const answer = await this.#find(line, question, signal);
        // a bad tile may be mended or come back: ask again next time
        if (answer === null || answer.key !== undefined) this.#horizons.set(line, { answer });
        return answer;
      } finally {
        if (this.#underWay.get(line) === shared) this.#underWay.delete(line);
      }
    });
    this.#underWay.set(line, shared);
    return shared;
  }

  async #find(line: string, question: HorizonQuestion, signal: AbortSignal): Promise<TerrainHorizon | null> {
    const key = horizonKey(line, this.dataVersion);
    const kept = await this.#kept?.get(key);
    if (kept) return kept;
    // where there are no tiles there is nothing to find
    if (this.#elsewhere !== undefined && this.#store.at(question.latitude, question.longitude).length > 0) {
      // others may want what another process has begun
      await untilAborted(this.#elsewhere(question), signal);
      const shared = await this.#kept?.get(key);
      if (shared) return shared;
    }
    const answer = await this.#findHere(line, question, signal);
    if (answer?.key !== undefined) void this.#kept?.set(answer.key, answer);
    return answer;
  }

  /** The answer; it has a key where it will be the same next time. */
  async #findHere(line: string, question: HorizonQuestion, signal?: AbortSignal): Promise<TerrainHorizon | null> {
    const key = horizonKey(line, this.dataVersion);
    const found = await this.#retrying(() => this.#compute(question, signal));
    this.#store.weighAgain();
    // a file that found its place meanwhile may have been looked at or not
    if (found === null || !found.lasting || key !== horizonKey(line, this.dataVersion)) return found?.answer ?? null;
    return { ...found.answer, key };
  }

  /** Looks again where the prepared form of a tile turned out to be damaged, or went when the cache was full. */
  async #retrying<T>(look: () => Promise<T>): Promise<T> {
    for (;;) {
      try {
        return await look();
      } catch (error) {
        if (!isPreparedFault(error)) throw error;
        await this.#store.forgetPrepared(error.file);
      }
    }
  }

  /** Files without a place are looked at again, for as long as a request can wait. */
  async #lookAgain(): Promise<void> {
    if (!this.#store.unplaced.some(({ place }) => place !== undefined)) return;
    const looking = this.#store.placeAgain().then((placed) => {
      if (placed) this.#horizons.clear();
    });
    await Promise.race([looking, delay(LOOK_AGAIN_MS, undefined, { ref: false })]);
  }

  async groundElevationM(latitude: number, longitude: number): Promise<number | null> {
    requirePlace(latitude, longitude);
    return this.#retrying(async () => groundOf(await this.#tilesAt(latitude, longitude), latitude, longitude));
  }

  async highestNear(latitude: number, longitude: number, withinM: number): Promise<HighestGround | null> {
    requirePlace(latitude, longitude);
    requireInRange("withinM", withinM, 1, 1000, "m");
    const { latitudeDeg, longitudeDeg } = degreesOf(withinM, latitude);
    const places = [0, -1, 1].flatMap((y) =>
      [0, -1, 1].map((x) => [latitude + y * latitudeDeg, longitude + x * longitudeDeg]),
    );
    return this.#retrying(async () => {
      const found = await Promise.all(
        places.map(([y = 0, x = 0]) =>
          this.#tilesAt(Math.max(-90, Math.min(90, y)), x > 180 ? x - 360 : x < -180 ? x + 360 : x),
        ),
      );
      return highestNear([...new Set(found.flat().map(({ grid }) => grid))], latitude, longitude, withinM);
    });
  }

  /** @throws TileError where there are tiles and none can be used */
  async #tilesAt(latitude: number, longitude: number) {
    const tiles = this.#store.at(latitude, longitude);
    const loaded = await Promise.all(tiles.map(async (tile) => ({ tile, grid: await this.#store.load(tile) })));
    const usable = loaded.flatMap(({ tile, grid }) => (grid instanceof ElevationGrid ? { tile, grid } : []));
    const failure = loaded.find(({ grid }) => grid instanceof TileError)?.grid;
    if (usable.length === 0 && failure !== undefined) throw failure;
    return usable;
  }

  /** The answer, and whether it will be the same next time. */
  async #compute(
    question: HorizonQuestion,
    signal: AbortSignal | undefined,
  ): Promise<{ answer: TerrainHorizon; lasting: boolean } | null> {
    const { latitude, longitude, elevationM, eyeHeightM, stepDeg, refined, radiusKm } = question;
    requirePlace(latitude, longitude);
    requireInRange("radiusKm", radiusKm, 0.1, 400, "km");
    const here = await this.#tilesAt(latitude, longitude);
    const ground = groundOf(here, latitude, longitude);
    const first = here[0];
    if (first === undefined || ground === null) return null;
    const atHand = [...here, ...this.#store.loadedIn(boxAround(latitude, longitude, radiusKm))];
    const { scan, failures, lasting } = await gatherScan(
      this.#store,
      atHand,
      compassAzimuthsDeg(stepDeg),
      async (grids, azimuthsDeg, goesOn, refine) => {
        signal?.throwIfAborted();
        const job = {
          grids: grids.map((grid) => sharedGrid(grid, grid.pyramid)),
          viewpoint: { latitude, longitude, elevationM, eyeHeightM },
          options: { radiusM: radiusKm * 1000, azimuthsDeg, refine },
          goesOn,
        };
        return this.#work.scanHorizon(job, signal);
      },
      refined ? {} : undefined,
    );
    const profile = {
      azimuthsDeg: scan.azimuthsDeg,
      altitudesDeg: scan.altitudesDeg,
      distancesM: scan.distancesM,
    };
    const uncertain = scan.certain.flatMap((certain, i) => (certain ? [] : [i]));
    const { kind, attribution } = first.tile.source;
    const missing = missingTiles(this.#store, scan, failures);
    const answer: TerrainHorizon = {
      profile,
      viewpoint: { latitude, longitude, groundElevationM: scan.groundElevationM, eyeHeightM },
      skyViewFactor: skyViewFactor(profile),
      source: {
        name: kind,
        // a degree of latitude is 111.2 km on the mean sphere
        resolutionM: Math.round(first.grid.latStepDeg * 111_195),
        ...(attribution === undefined ? {} : { attribution }),
      },
      missingTiles: missing,
      uncertainAzimuthsDeg: azimuthRanges(scan.azimuthsDeg, uncertain),
      refractionCoefficient: REFRACTION_COEFFICIENT,
    };
    return { answer, lasting: lasting && missing.every(({ reason }) => reason === "absent") };
  }
}

/** Height of the ground by the first grid that knows it; null where none does. */
function groundOf(tiles: readonly { readonly grid: ElevationGrid }[], latitude: number, longitude: number) {
  for (const { grid } of tiles) {
    const turned = [0, -360, 360]
      .map((turn) => longitude + turn)
      .find((x) => x >= grid.westDeg - 1e-9 && x <= grid.eastDeg + 1e-9);
    if (turned === undefined) continue;
    const column = (turned - grid.westDeg) / grid.lonStepDeg;
    const height = grid.elevationAt(column, (grid.northDeg - latitude) / grid.latStepDeg);
    if (height !== null) return height;
  }
  return null;
}

const missingAnywhere = ({ name, reason }: UnplacedTile): MissingTile => ({
  name,
  reason: "unreadable",
  detail: reason,
  azimuthsDeg: [[0, 360]],
});

function missingTiles(store: TileStore, scan: HorizonScan, failures: ReadonlyMap<string, TileError>): MissingTile[] {
  return scan.unknownCells.map((cell) => {
    const azimuthsDeg = azimuthRanges(scan.azimuthsDeg, cell.azimuthIndices);
    const bad = store.inCell(cell).flatMap((tile) => failures.get(tile.key) ?? [])[0];
    if (bad === undefined) return { name: cellName(cell), reason: "absent", azimuthsDeg };
    return { name: bad.file, reason: "unreadable", detail: bad.reason, azimuthsDeg };
  });
}

function requirePlace(latitude: number, longitude: number): void {
  requireInRange("latitude", latitude, -90, 90, "deg");
  requireInRange("longitude", longitude, -180, 180, "deg");
}
