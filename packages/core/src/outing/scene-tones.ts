import type { SceneEv100 } from "../light/levels";
import type { DarkEnd } from "./scene-kind";

export type ToneName =
  | "brightest-sky"
  | "mean-sky"
  | "sun"
  | "lit-ground"
  | "open-shade"
  | "deep-shade"
  | "still-water";

/** A named part of the photograph. */
export interface Tone {
  readonly name: ToneName;
  /** Null for the sun: its disc is far over what any sensor holds. */
  readonly ev100: number | null;
  /** How much of the frame it takes [%]; null where that depends on what stands there. */
  readonly sharePercent: number | null;
}

/** The tones of one photograph, as every decision about it uses them. */
export interface SceneTones {
  /** The mean of the sky in the frame [EV100]. */
  readonly skyEv100: number;
  /** The brightest part of the sky that a photograph can hold [EV100]. */
  readonly brightestEv100: number;
  /** The ground that the photograph shows and that is metered [EV100]. */
  readonly groundEv100: number;
  /** The brightest of the ground, as patches of sun under trees [EV100]. */
  readonly brightestGroundEv100: number;
  /** The darkest part that should keep its drawing [EV100]. */
  readonly darkestEv100: number;
  /** Still water, if there is any: the sky reflected [EV100]. */
  readonly stillWaterEv100: number;
  /** Whether the sun's disc is in the frame: it clips in any frame. */
  readonly sunInFrame: boolean;
  /** Whether there is sky in the frame. */
  readonly skyInFrame: boolean;
  /** Whether the night rules: a photograph of it is kept dark. */
  readonly night: boolean;
  /** What the range between brightest and darkest may be off by [± stops]. */
  readonly uncertaintyStops: number;
}

export interface TonesRequest {
  readonly ev100: SceneEv100;
  /** Whether the beam reaches what is photographed. */
  readonly lit: boolean;
  readonly darkEnd: DarkEnd;
  readonly sunInFrame: boolean;
  /** Part of the frame that is sky [%]. */
  readonly skyPercent: number;
  readonly sunAltitudeDeg: number;
  /** Of the levels [± stops]. */
  readonly uncertaintyStops: number;
}

// Our own choice: once the sun is this far down, what light there is comes from the moon and the stars (nautical twilight's end)
const NIGHT_DEG = -12;
// Our own choice: ground in the shade of trees is metered a stop over its darkest part
const METERED_OVER_DARKEST_STOPS = 1;

/** The tones that decide about one photograph. */
export function sceneTones(request: TonesRequest): SceneTones {
  const { ev100, darkEnd, sunInFrame, skyPercent, sunAltitudeDeg } = request;
  // what the sun's or the moon's beam lights, else open shade
  const openGroundEv100 = ev100.litGround;
  const darkestEv100 = Math.min(openGroundEv100, ev100.openShade) + darkEnd.offsetStops;
  const inShade = darkEnd.offsetStops < 0;
  const skyInFrame = skyPercent > 0 || darkEnd.showsSky;
  return {
    skyEv100: ev100.sky,
    brightestEv100: skyInFrame ? Math.max(ev100.brightestSky, ev100.sky) : openGroundEv100,
    groundEv100: inShade ? Math.min(openGroundEv100, darkestEv100 + METERED_OVER_DARKEST_STOPS) : openGroundEv100,
    brightestGroundEv100: openGroundEv100,
    darkestEv100,
    stillWaterEv100: ev100.stillWater,
    sunInFrame,
    skyInFrame,
    night: sunAltitudeDeg < NIGHT_DEG,
    uncertaintyStops: Math.hypot(request.uncertaintyStops, darkEnd.uncertaintyStops),
  };
}

/** The same for an answer, each part by its name, brightest first. */
export function namedTones(request: TonesRequest): Tone[] {
  const { ev100, lit, darkEnd, sunInFrame, skyPercent } = request;
  const showsSky = skyPercent > 0 || darkEnd.showsSky;
  const tones: Tone[] = [];
  const add = (name: ToneName, value: number | null, sharePercent: number | null): void => {
    tones.push({ name, ev100: value, sharePercent });
  };
  if (sunInFrame) add("sun", null, null);
  if (showsSky) {
    add("brightest-sky", ev100.brightestSky, null);
    add("mean-sky", ev100.sky, skyPercent > 0 ? skyPercent : null);
  }
  const ground = 100 - skyPercent;
  if (lit) add("lit-ground", ev100.litGround, darkEnd.offsetStops === 0 ? ground : null);
  add("open-shade", ev100.openShade, lit ? null : ground);
  if (darkEnd.offsetStops < 0)
    add("deep-shade", Math.min(ev100.litGround, ev100.openShade) + darkEnd.offsetStops, null);
  if (skyPercent < 100) add("still-water", ev100.stillWater, null);
  const brightness = ({ ev100: value }: Tone): number => value ?? Number.POSITIVE_INFINITY;
  return tones.sort((a, b) => brightness(b) - brightness(a));
}
