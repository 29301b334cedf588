import { DomainError } from "../domain-error";

/** What the photograph shows below the sky, in the trade's plain words. */
export type SceneKind = "open-ground" | "shaded-side" | "under-trees" | "interior-looking-out";

/** The dark end of a scene. */
export interface DarkEnd {
  /** Its darkest part that matters, against open shade [stops]. */
  readonly offsetStops: number;
  /** What that may be off by [± stops]. */
  readonly uncertaintyStops: number;
  /** Whether trunks or walls stand across the skyline, so that no graduated filter fits. */
  readonly crossesSkyline: boolean;
  /** Whether sky is seen whatever the camera's pitch, as through a door. */
  readonly showsSky: boolean;
  /** Where the figures come from. */
  readonly source: string;
}

/** The kinds of scene. */
export const SCENE_KINDS: Readonly<Record<SceneKind, DarkEnd>> = {
  "open-ground": {
    offsetStops: 0,
    uncertaintyStops: 0,
    crossesSkyline: false,
    showsSky: false,
    source: "open shade itself",
  },
  "shaded-side": {
    offsetStops: -1,
    uncertaintyStops: 0.5,
    crossesSkyline: false,
    showsSky: false,
    source: "exposure guides give one stop more for side light and two for back light (ANSI PH2.7)",
  },
  "under-trees": {
    offsetStops: -3,
    uncertaintyStops: 1,
    crossesSkyline: true,
    showsSky: false,
    source: "our own estimate: leaf shade sees an eighth of the open sky",
  },
  "interior-looking-out": {
    offsetStops: -6,
    uncertaintyStops: 1.5,
    crossesSkyline: true,
    showsSky: true,
    source: "our own estimate: the floor of a dark wood lies six stops under open shade",
  },
};

/** @throws DomainError for a scene that is not known, with those that are */
export function darkEndOf(scene: SceneKind): DarkEnd {
  if (!Object.hasOwn(SCENE_KINDS, scene)) {
    throw new DomainError({ param: "scene", given: scene, allowed: Object.keys(SCENE_KINDS).join(", ") });
  }
  return SCENE_KINDS[scene];
}
