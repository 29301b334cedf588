import type { RecordableHistogram } from "node:perf_hooks";
import { median } from "../median";
import type { Tally } from "./crowd";
import type { CoreTime } from "./event-loop-delay";
import { type Borne, perSecond, SATURATING } from "./load-run";

// How the figures of a load are told.

const ms = (micros: number): string => `${(micros / 1000).toFixed(1)} ms`;
export const middle = (micros: readonly number[]): string => ms(median(micros));
export const inMs = (micros: readonly number[]): string => micros.map((one) => (one / 1000).toFixed(0)).join(", ");
export const spread = (histogram: RecordableHistogram): string =>
  histogram.count === 0
    ? "none"
    : `median ${ms(histogram.percentile(50))}, p99 ${ms(histogram.percentile(99))}, max ${ms(histogram.max)}`;
export const lateness = ({ late }: Pick<Tally, "late">): string =>
  `sent late by p99 ${ms(late.percentile(99))}, max ${ms(late.max)}`;

/** What it can do, as it was found in one or more tries. */
export function saturated(tries: readonly Borne[]): string {
  const rates = tries.map((one) => Math.round(perSecond(one))).sort((a, b) => a - b);
  const range = rates.length === 1 ? `${rates[0]}` : `${rates[0]} to ${rates.at(-1)}`;
  return `${range} a second on ${SATURATING} connections`;
}

export function coreShare(core: CoreTime | undefined, seconds: number): string {
  if (core === undefined) return "not told here";
  const percent = (spentMs: number): string => `${(spentMs / seconds / 10).toFixed(0)} %`;
  return `had a core for ${percent(core.hadMs)} of the time, was kept from one for ${percent(core.waitedMs)}`;
}
