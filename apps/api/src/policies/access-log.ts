import type { Exchange } from "./exchange";

/** A line of the log for each request: nothing that names a person, a key, or a place better than to some ten kilometres. */
export interface AccessEntry {
  readonly requestId: string;
  readonly traceId?: string;
  readonly method: string;
  readonly route: string;
  readonly status: number;
  readonly ms: number;
  /** Rounded to 0.1°. */
  readonly near?: readonly [latitude: number, longitude: number];
}

export type AccessLog = (entry: AccessEntry) => void;

const LATITUDE = /(?:^|&)latitude=(-?\d{1,3}(?:\.\d+)?)(?:&|$)/;
const LONGITUDE = /(?:^|&)longitude=(-?\d{1,3}(?:\.\d+)?)(?:&|$)/;

export function accessEntry(exchange: Exchange, method: string, status: number, ms: number): AccessEntry {
  const { requestId, traceId, template, query } = exchange;
  const near = query === "" ? undefined : nearOf(query);
  return {
    requestId,
    ...(traceId !== undefined && { traceId }),
    method,
    route: template ?? "unmatched",
    status,
    ms: Math.round(ms * 10) / 10,
    ...(near && { near }),
  };
}

function nearOf(query: string): readonly [number, number] | undefined {
  const latitude = LATITUDE.exec(query)?.[1];
  const longitude = LONGITUDE.exec(query)?.[1];
  if (latitude === undefined || longitude === undefined) return undefined;
  return [coarse(latitude), coarse(longitude)];
}

/** The zero is never negative. */
function coarse(degrees: string): number {
  return Math.round(Number(degrees) * 10) / 10 + 0;
}
