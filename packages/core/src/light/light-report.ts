import type { DirectLight, DirectLightCause } from "./direct-light";
import type { Horizon, MissingTile } from "./light-place";

export interface DirectLightReport {
  readonly intervals: readonly {
    readonly start: string;
    readonly end: string;
    readonly startCause: DirectLightCause;
    readonly endCause: DirectLightCause;
    readonly startAzimuthDeg: number;
    readonly endAzimuthDeg: number;
    /** Within it, while the whole disc is seen; null where it never is. */
    readonly fullDisc: { readonly start: string; readonly end: string } | null;
  }[];
  readonly firstInstant: string | null;
  readonly lastInstant: string | null;
  readonly minutesLostToTerrain: number;
}

export interface HorizonReport {
  readonly kind: "flat" | "profile" | "terrain";
  readonly source?: string;
  readonly missingTiles?: readonly MissingTile[];
}

/** Direct light with its instants written out. */
export function directLightReport(light: DirectLight, write: (instantMs: number) => string): DirectLightReport {
  const intervals = light.intervals.map((interval) => ({
    start: write(interval.startMs),
    end: write(interval.endMs),
    startCause: interval.startCause,
    endCause: interval.endCause,
    startAzimuthDeg: interval.startAzimuthDeg,
    endAzimuthDeg: interval.endAzimuthDeg,
    fullDisc: interval.fullDisc && { start: write(interval.fullDisc.startMs), end: write(interval.fullDisc.endMs) },
  }));
  return {
    intervals,
    firstInstant: intervals[0]?.start ?? null,
    lastInstant: intervals.at(-1)?.end ?? null,
    minutesLostToTerrain: light.minutesLostToTerrain,
  };
}

/** The skyline that was reckoned with, without its nodes. */
export function horizonReport(horizon: Horizon): HorizonReport {
  const { kind, missingTiles } = horizon;
  const source = horizon.kind === "flat" ? undefined : horizon.source;
  return { kind, ...(source === undefined ? {} : { source }), ...(missingTiles === undefined ? {} : { missingTiles }) };
}
