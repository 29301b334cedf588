import type { FrameReading } from "./frame-reading";

/** What the frames together say of the scene; levels in stops against full scale of a frame without bias. */
export interface SceneReading {
  readonly highlightStops: number;
  readonly shadowStops: number;
  /** The darkest frame still clips: the highlights lie higher. */
  readonly clips: boolean;
  /** The brightest frame that holds the highlights, or the darkest of all; by place in the order of bias. */
  readonly topPlace: number;
  /** The brightest frame is still blocked: the shadows lie lower. */
  readonly blocks: boolean;
}

const PERCENT_SLACK = 1e-9;

/** Reads the scene from frames in the order of their bias. */
export function sceneOf(sorted: readonly FrameReading[], clippedPercent: number, blockedPercent: number): SceneReading {
  const held = sorted.findLastIndex((frame) => frame.clippedHighlightPercent <= clippedPercent + PERCENT_SLACK);
  const clips = held < 0;
  const topPlace = clips ? 0 : held;
  const top = sorted[topPlace] as FrameReading;
  // the brightest frame knows the shadows best, unless it is so bright that even they clip
  const bottom = sorted.findLast((frame) => frame.bottomStops < frame.clipStops) ?? (sorted[0] as FrameReading);
  const blocks = bottom.blockedShadowPercent > blockedPercent + PERCENT_SLACK;
  const highlightStops = clips ? top.clipStops : top.topStops;
  const shadowStops = Math.min(blocks ? bottom.floorStops : bottom.bottomStops, highlightStops);
  return { highlightStops, shadowStops, clips, topPlace, blocks };
}
