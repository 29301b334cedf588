import { DomainError, requireInRange } from "../domain-error";
import {
  binEdges,
  type Cumulative,
  cumulative,
  HISTOGRAM_CHANNELS,
  type Histogram,
  type HistogramChannel,
  type HistogramCoding,
  lightBelowWhich,
} from "./histogram";

/** A frame of a set that was taken. */
export interface TakenFrame {
  /** Exposure against the base exposure [stops], positive for brighter, -20 to 20. */
  readonly biasStops: number;
  readonly histogram: Histogram;
  readonly coding: HistogramCoding;
}

export interface ChannelReading {
  readonly clippedHighlightPercent: number;
  readonly blockedShadowPercent: number;
}

/** What one frame says of the scene; levels in stops against full scale of a frame without bias. */
export interface FrameReading {
  readonly biasStops: number;
  readonly channels: Readonly<Record<HistogramChannel, ChannelReading>>;
  /** Of the channel that clips most: a pixel is spoilt where any channel is. */
  readonly clippedHighlightPercent: number;
  /** Of the channel that is blocked least: a pixel is black where no channel holds anything. */
  readonly blockedShadowPercent: number;
  /** Brightest and darkest level of the scene that the frame can hold. */
  readonly clipStops: number;
  readonly floorStops: number;
  /** Brightest level of the scene as this frame has it, all but the tolerated share; of the brightest channel. */
  readonly topStops: number;
  /** Darkest level likewise; of the channel that stays brightest. */
  readonly bottomStops: number;
  /** Level below which a share of the green pixels lies, or undefined where the frame cannot tell it. */
  readonly levelBelowWhich: (share: number) => number | undefined;
}

/** How strictly frames are read. */
export interface ReadingRules {
  /** Range from full scale down to the noise floor [stops]. */
  readonly rangeStops: number;
  /** Share of pixels that may clip, 0 to 1. */
  readonly clippedShare: number;
  /** Share of pixels that may be blocked, 0 to 1. */
  readonly blockedShare: number;
}

// The top 1/128 of the scale counts as clipped (codes 254 and 255 of 255): compression scatters what was clipped by a code. Our choice.
const CLIPPED_PART = 1 / 128;

export type EdgesOf = (bins: number, coding: HistogramCoding) => Float64Array;

/** Bin edges, worked out once for each kind of histogram in a set. */
export function rememberEdges(): EdgesOf {
  const known = new Map<string, Float64Array>();
  return (bins, coding) => {
    const key = `${coding}${bins}`;
    const edges = known.get(key) ?? binEdges(bins, coding);
    known.set(key, edges);
    return edges;
  };
}

/** Reads the histograms of one frame; `path` is where the frame stands in the request. */
export function readFrame(frame: TakenFrame, path: string, rules: ReadingRules, edgesOf: EdgesOf): FrameReading {
  const { histogram } = frame;
  const biasStops = requireInRange(`${path}.biasStops`, frame.biasStops, -20, 20, "stops");
  if (frame.coding !== "srgb" && frame.coding !== "linear") {
    throw new DomainError({ param: `${path}.coding`, given: frame.coding, allowed: "srgb or linear" });
  }
  const bins = histogram.red.length;
  for (const channel of HISTOGRAM_CHANNELS) {
    if (histogram[channel].length === bins) continue;
    const given = histogram[channel].length;
    throw new DomainError({
      param: `${path}.histogram.${channel}`,
      given,
      allowed: `${bins} bins, as many as red has`,
    });
  }
  const shares = HISTOGRAM_CHANNELS.map((channel) => cumulative(histogram[channel], `${path}.histogram.${channel}`));
  const edges = edgesOf(bins, frame.coding);

  const clipBin = bins - Math.max(1, Math.round(bins * CLIPPED_PART));
  const floorBin = binsBlocked(edges, 2 ** -rules.rangeStops, clipBin);
  const readings = shares.map(
    (share): ChannelReading => ({
      clippedHighlightPercent: 100 * (1 - (share[clipBin] as number)),
      blockedShadowPercent: 100 * (share[floorBin] as number),
    }),
  );
  const [red, green, blue] = readings as [ChannelReading, ChannelReading, ChannelReading];
  const level = (share: Cumulative, part: number): number =>
    Math.log2(Math.max(lightBelowWhich(share, edges, part), Number.MIN_VALUE)) - biasStops;
  const clipStops = Math.log2(edges[clipBin] as number) - biasStops;
  const floorStops = Math.log2(edges[floorBin] as number) - biasStops;
  return {
    biasStops,
    channels: { red, green, blue },
    clippedHighlightPercent: Math.max(...readings.map((each) => each.clippedHighlightPercent)),
    blockedShadowPercent: Math.min(...readings.map((each) => each.blockedShadowPercent)),
    clipStops,
    floorStops,
    topStops: Math.max(...shares.map((share) => level(share, 1 - rules.clippedShare))),
    bottomStops: Math.max(...shares.map((share) => level(share, rules.blockedShare))),
    levelBelowWhich: (part) => {
      const stops = level(shares[1] as Cumulative, part);
      return stops > floorStops && stops < clipStops ? stops : undefined;
    },
  };
}

/** How many bins from black lie wholly or partly below the noise floor: at least the black one. */
function binsBlocked(edges: Float64Array, floor: number, most: number): number {
  let bin = 1;
  while (bin < most && (edges[bin] as number) < floor) bin++;
  return bin;
}
