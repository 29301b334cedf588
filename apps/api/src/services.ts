import type { findAlignments } from "@fieldstop/core";
import type { Terrain } from "@fieldstop/terrain";
import type { PhotoReader } from "./photos/photo-reader";
import type { TideSource } from "./tides/tide-source";

/** Calculations over years, beside the event loop. */
export interface LongWork {
  findAlignments(request: Parameters<typeof findAlignments>[0]): Promise<ReturnType<typeof findAlignments>>;
}

/** What routes need from outside, handed in once, so that they can be tested without files, clocks or networks. */
export interface Services {
  /** Elevation data; absent where the service runs without any. */
  readonly terrain?: Terrain;
  /** Who does what takes long; absent where it is done within the request. */
  readonly longWork?: LongWork;
  /** Tide stations, loaded when first asked for; absent where the service runs without any. */
  readonly tides?: () => Promise<TideSource>;
  /** Decodes photographs; absent where the platform cannot. */
  readonly photos?: PhotoReader;
  /** IANA zone of a place. */
  timeZoneAt(latitude: number, longitude: number): string;
  /** The present, in Unix milliseconds. */
  nowMs(): number;
  /** Told of every fault, with the id of the request that met it. */
  reportFault(error: unknown, requestId: string): void;
}
