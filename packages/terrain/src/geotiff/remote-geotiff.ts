import type { ElevationGrid } from "@fieldstop/core/horizon";
import type { GeoTIFF } from "geotiff";
import { LRUCache } from "lru-cache";
import type { Remote } from "../remote/remote";
import { RemoteError } from "../remote/remote-error";
import { TileError } from "../tiles/tile-error";
import { gridOf } from "../tiles/tile-recipe";
import type { TileIndex, TileReader } from "../tiles/tile-ref";
import { geoTiffLibrary } from "./geotiff-library";
import { FILE_BLOCK } from "./geotiff-part";
import { geoTiffTiles, type WindowReader } from "./geotiff-tiles";
import type { SampleWindow } from "./geotiff-window";
import { requirePiece, type Slice } from "./slice";

/** How often more of a file may turn out to be needed: its header, where its parts lie, the parts. */
const MOST_ROUNDS = 16;
/** Blocks kept in memory: 16 MB. */
const BLOCKS_KEPT = 128;

/** A cloud-optimised GeoTIFF under a URL: its header is read now, its samples by parts when they are needed. */
export async function remoteGeoTiffIndex(url: string, remote: Remote): Promise<TileIndex> {
  const path = new URL(url).pathname;
  const name = decodeURIComponent(path.slice(path.lastIndexOf("/") + 1));
  const place = () => {
    const file = new RemoteFile(name, url, remote);
    const read: WindowReader = (window, reader) => file.read(window, reader);
    return geoTiffTiles(
      url,
      name,
      { kind: "GeoTIFF" },
      () => open(file),
      read,
      () => file.version,
    );
  };
  try {
    return { tiles: await place(), unplaced: [], fingerprint: [url], isRemote: true };
  } catch (error) {
    if (!(error instanceof TileError)) throw error;
    return {
      tiles: [],
      // of a remote that does not answer its source tells
      faults: error.cause instanceof RemoteError ? [] : [error],
      unplaced: [{ key: url, name, reason: error.reason, transient: true, place }],
      fingerprint: [url],
      isRemote: true,
    };
  }
}

async function open(file: RemoteFile): Promise<GeoTIFF> {
  await file.greet();
  const { GeoTIFF } = await geoTiffLibrary();
  return GeoTIFF.fromSource(file as unknown as Parameters<typeof GeoTIFF.fromSource>[0]);
}

/** A file under a URL, read in blocks, which are kept in memory and on disk. */
class RemoteFile {
  readonly fileSize = null;
  readonly #name: string;
  readonly #url: string;
  readonly #remote: Remote;
  readonly #blocks: LRUCache<number, Uint8Array>;
  #version = "";

  constructor(name: string, url: string, remote: Remote) {
    this.#name = name;
    this.#url = url;
    this.#remote = remote;
    this.#blocks = new LRUCache({ max: BLOCKS_KEPT, fetchMethod: (index) => this.#block(index) });
  }

  /** Tells apart the versions of a file that is replaced under the same address; empty where the remote does not. */
  get version(): string {
    return this.#version;
  }

  /** Asks the remote itself for the first block, whatever is kept, and so learns which version it serves. */
  async greet(): Promise<void> {
    const { bytes, version } = await this.#ask(0);
    this.#version = version;
    this.#blocks.set(0, shared(bytes));
  }

  /** A rectangle of its samples: whoever decodes them tells which parts of the file that takes. */
  async read(window: SampleWindow, read: TileReader): Promise<ElevationGrid> {
    const name = this.#name;
    const held = new Map<number, Uint8Array>();
    for (let round = 0; round < MOST_ROUNDS; round++) {
      const reading = await read({ kind: "geotiff", name, window, from: { blocks: [...held] } });
      if (reading.kind !== "needs") return gridOf(name, reading);
      const blocks = reading.blocks.map(async (index) => [index, await this.#blocks.fetch(index)] as const);
      for (const [index, bytes] of await Promise.all(blocks)) if (bytes !== undefined) held.set(index, bytes);
    }
    throw new TileError(name, "its parts lead to ever others: damaged");
  }

  fetch(slices: readonly Slice[]): Promise<ArrayBuffer[]> {
    return Promise.all(slices.map((slice) => this.#slice(slice)));
  }

  async close(): Promise<void> {}

  async #slice({ offset, length }: Slice): Promise<ArrayBuffer> {
    requirePiece(length);
    const first = Math.floor(offset / FILE_BLOCK);
    const last = Math.floor((offset + length - 1) / FILE_BLOCK);
    const indices = Array.from({ length: last - first + 1 }, (_, i) => first + i);
    const parts = await Promise.all(indices.map((index) => this.#blocks.fetch(index)));
    const joined = Buffer.concat(parts.map((part) => part ?? new Uint8Array(0)));
    const from = offset - first * FILE_BLOCK;
    const slice = new Uint8Array(joined.subarray(from, from + length));
    return slice.buffer;
  }

  async #block(index: number): Promise<Uint8Array> {
    // a version that is not known cannot be told from a later one
    const key = this.#version === "" ? null : `${this.#url} ${this.#version} ${index}`;
    const kept = key === null ? null : await this.#remote.cache?.get(key);
    if (kept) return shared(kept);
    const { bytes, version } = await this.#ask(index);
    if (version !== this.#version) throw new TileError(this.#name, "the file has been replaced; start again");
    if (key !== null) void this.#remote.cache?.set(key, bytes);
    return shared(bytes);
  }

  async #ask(index: number): Promise<{ bytes: Uint8Array; version: string }> {
    try {
      const received = await this.#remote.fetch(this.#url, {
        range: { offset: index * FILE_BLOCK, length: FILE_BLOCK },
        mostBytes: FILE_BLOCK,
      });
      if (received !== null) return received;
    } catch (error) {
      if (!(error instanceof RemoteError)) throw error;
      throw new TileError(this.#name, error.message, { cause: error });
    }
    throw new TileError(this.#name, "the remote has no such file");
  }
}

/** The same bytes in memory that other threads read as well. */
function shared(bytes: Uint8Array): Uint8Array {
  const copy = new Uint8Array(new SharedArrayBuffer(bytes.length));
  copy.set(bytes);
  return copy;
}
