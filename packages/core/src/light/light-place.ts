import type { HorizonProfile } from "../horizon/profile";

export interface Place {
  readonly name?: string | undefined;
  /** WGS 84 [deg]. */
  readonly latitude: number;
  readonly longitude: number;
  /** Ground above mean sea level [m], -500 to 9000; default 0. It thins the air that refracts. */
  readonly elevationM?: number | undefined;
  /** Eye or lens above the ground around it [m], 0 to 1000; default 1.6. On a cliff over the sea with no skyline at hand: above the sea. */
  readonly eyeHeightM?: number | undefined;
}

/** A tile that the skyline needed and did not have. */
export interface MissingTile {
  readonly name: string;
  readonly reason: string;
  /** Azimuths [deg] that it leaves uncertain, as ranges from and to, clockwise. */
  readonly azimuthsDeg: readonly (readonly [number, number])[];
}

/** The skyline to reckon with, and where it comes from. */
export type Horizon =
  | {
      readonly kind: "flat";
      /** What there would have been to read instead, but for a fault. */
      readonly missingTiles?: readonly MissingTile[] | undefined;
    }
  | {
      readonly kind: "profile" | "terrain";
      readonly profile: HorizonProfile;
      readonly source?: string | undefined;
      readonly missingTiles?: readonly MissingTile[] | undefined;
    };

/** What is photographed: it may stand elsewhere, under its own skyline, and look one way. */
export interface Subject {
  /** WGS 84 [deg], both or neither; default: where the camera stands. */
  readonly latitude?: number | undefined;
  readonly longitude?: number | undefined;
  /** The way the surface looks, degrees clockwise from true north, 0 to 360. */
  readonly facingAzimuthDeg?: number | undefined;
  /** The surface against the level [deg], 0 to 180; default 90, a wall, where a facing is given. */
  readonly slopeDeg?: number | undefined;
  /** The subject's own skyline; default: the camera's. */
  readonly horizon?: Horizon | undefined;
}
