import type { OutingMoment } from "@fieldstop/sdk";

/** The range that a photograph should hold [EV100], and where sky and ground lie in it. */
export interface SceneSpan {
  readonly shadowEv100: number;
  readonly highlightEv100: number;
  readonly groundEv100: number;
  readonly skyEv100: number;
}

// As the plan reckons: the bright parts of a sky lie about a stop above its mean
const SKY_PEAK_STOPS = 1;

export function sceneSpan({ ev100, directLight }: Pick<OutingMoment, "ev100" | "directLight">): SceneSpan {
  const groundEv100 = directLight ? ev100.litGround : ev100.openShade;
  return {
    shadowEv100: ev100.deepShade,
    highlightEv100: Math.max(ev100.sky + SKY_PEAK_STOPS, groundEv100),
    groundEv100,
    skyEv100: ev100.sky,
  };
}
