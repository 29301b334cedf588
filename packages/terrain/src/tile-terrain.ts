import { setTimeout as delay } from "node:timers/promises";
import { requireInRange } from "@fieldstop/core";
import { LRUCache } from "lru-cache";
import type { ByteStore } from "./byte-store";
import { degreesOf, type HighestGround, highestNear } from "./highest-near";
import { REMOTE_AGE_MS } from "./remote/remote-age";
import { SharedResult, untilAborted } from "./shared-result";
import { CachedHorizons } from "./skylines/cached-horizons";
import { findSkyline } from "./skylines/find-skyline";
import { type HorizonQuestion, horizonKey, questionLine } from "./skylines/horizon-question";
import { missingAnywhere } from "./skylines/missing-tiles";
import type {
  ElevationSource,
  GroundPoint,
  SharedTerrain,
  TerrainHorizon,
  TerrainOptions,
  TerrainViewpoint,
} from "./terrain";
import type { TerrainWork } from "./terrain-work";
import { groundOf, requirePlace, tilesAt } from "./tiles/ground";
import { isPreparedFault } from "./tiles/prepared-blocks";
import { TileError } from "./tiles/tile-error";
import type { TileStore } from "./tiles/tile-store";

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
  readonly #sources: readonly ElevationSource[];
  readonly #kept: CachedHorizons | undefined;
  readonly #elsewhere: FindElsewhere | undefined;
  readonly #horizons: LRUCache<string, { readonly answer: TerrainHorizon | null }>;
  /** Skylines that are being found. */
  readonly #underWay = new Map<string, SharedResult<TerrainHorizon | null>>();

  constructor(
    store: TileStore,
    work: TerrainWork,
    sources: readonly ElevationSource[],
    horizonStore: ByteStore | undefined,
    elsewhere?: FindElsewhere,
  ) {
    this.#sources = sources;
    this.#elsewhere = elsewhere;
    this.#store = store;
    this.#work = work;
    const { isAskedByName: asked, isRemote } = store.catalogue;
    this.#kept = horizonStore && new CachedHorizons(horizonStore, { asked, isRemote });
    this.#horizons = new LRUCache({
      max: KEPT_HORIZONS,
      ...(isRemote && { ttl: REMOTE_AGE_MS }),
    });
  }

  get dataVersion(): string {
    return this.#store.catalogue.version;
  }

  sources(): readonly ElevationSource[] {
    return this.#sources.map(({ name, state }) => ({ name, state }));
  }

  async horizonAt(viewpoint: TerrainViewpoint, options: TerrainOptions = {}): Promise<TerrainHorizon | null> {
    const { unplaced: before } = this.#store.catalogue;
    if (before.length > 0) await this.#lookAgain();
    const question = questionOf(viewpoint, options);
    const line = questionLine(question);
    const kept = this.#horizons.get(line);
    const answer = kept === undefined ? await this.#findFor(line, question, options.signal) : kept.answer;
    const { unplaced } = this.#store.catalogue;
    if (unplaced.length === 0) return answer;
    if (answer === null) {
      const transient = unplaced.find((tile) => tile.transient);
      // it may well be the one that covers this place
      if (transient !== undefined) throw new TileError(transient.name, transient.reason);
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

  async #findFor(line: string, question: HorizonQuestion, signal: AbortSignal | undefined) {
    signal?.throwIfAborted();
    return this.#findOnce(line, question).wait(signal);
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
    if (this.#elsewhere !== undefined && this.#store.catalogue.at(question.latitude, question.longitude).length > 0) {
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
    const found = await this.#retrying(() => findSkyline(this.#store, this.#work, question, signal));
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
    if (!this.#store.catalogue.unplaced.some(({ place }) => place !== undefined)) return;
    const looking = this.#store.catalogue.placeAgain().then((placed) => {
      if (placed) this.#horizons.clear();
    });
    await Promise.race([looking, delay(LOOK_AGAIN_MS, undefined, { ref: false })]);
  }

  async groundElevationM(latitude: number, longitude: number): Promise<number | null> {
    requirePlace(latitude, longitude);
    return this.#retrying(async () => {
      const { usable } = await tilesAt(this.#store, latitude, longitude);
      return groundOf(usable, latitude, longitude);
    });
  }

  async groundElevationsM(places: readonly GroundPoint[]): Promise<readonly (number | null)[]> {
    for (const { latitude, longitude } of places) requirePlace(latitude, longitude);
    const [first] = places;
    if (first === undefined) return [];
    return this.#retrying(async () => {
      const { usable } = await tilesAt(this.#store, first.latitude, first.longitude);
      return places.map(({ latitude, longitude }) => groundOf(usable, latitude, longitude));
    });
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
          tilesAt(this.#store, Math.max(-90, Math.min(90, y)), x > 180 ? x - 360 : x < -180 ? x + 360 : x),
        ),
      );
      return highestNear(
        [...new Set(found.flatMap(({ usable }) => usable).map(({ grid }) => grid))],
        latitude,
        longitude,
        withinM,
      );
    });
  }
}
