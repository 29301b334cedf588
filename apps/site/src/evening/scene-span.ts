import type { OutingMoment } from "@fieldstop/sdk";

/** The range that a photograph should hold [EV100], and where sky and ground lie in it. */
export interface SceneSpan {
  readonly shadowEv100: number;
  readonly highlightEv100: number;
  readonly groundEv100: number;
  readonly skyEv100: number;
}

/** From the darkest to the brightest of the moment's own tones, the sun and the mirror of the water left out. */
export function sceneSpan({ ev100, tones }: Pick<OutingMoment, "ev100" | "tones">): SceneSpan {
  const levels = tones.flatMap(({ name, ev100: level }) => (level === null || name === "still-water" ? [] : [level]));
  return {
    shadowEv100: Math.min(...levels),
    highlightEv100: Math.max(...levels),
    groundEv100: ev100.litGround,
    skyEv100: ev100.sky,
  };
}
