import type { CloudOutlookKind } from "../sky/cloud-outlook";
import type { FogRisk } from "../sky/dew-point";
import type { MoonPhaseName } from "../sky/moon";
import type { ApproachKind } from "./approach";
import type { MomentName } from "./moments";
import type { PackItemName } from "./pack";
import type { Verdict } from "./verdict";

/** When direct light goes or comes, and why: the code is stable, the sentence is made of the values where it is read. */
export type ForecastHeadline =
  | ({ readonly code: "light-goes" } & LightEdge)
  | ({ readonly code: "light-comes" } & LightEdge)
  /** The sun does not set: when it is lowest, and whether higher ground takes its light for a while. */
  | { readonly code: "sun-stays-up"; readonly instant: string; readonly directLight: boolean }
  /** The sun is over the level horizon in the session, and never on what is photographed; the instant is null where it does not cross it. */
  | { readonly code: "no-direct-light"; readonly almanacInstant: string | null }
  /** Where even twilight stays away, when the sun is highest, and how high [deg]; null where it does not. */
  | {
      readonly code: "sun-stays-down";
      readonly highest: { readonly instant: string; readonly trueAltitudeDeg: number } | null;
    };

export interface LightEdge {
  readonly instant: string;
  readonly azimuthDeg: number;
  /** What takes or lets in the light: higher terrain, the level horizon, or the surface turning away. */
  readonly cause: "terrain" | "horizon" | "facing";
  /** How far inside the almanac's sunset or sunrise [min]; null where there is none in the session. */
  readonly minutesInside: number | null;
  readonly almanacInstant: string | null;
}

/** One line of the summary. */
export type ForecastLine =
  | { readonly code: "verdict"; readonly verdict: Verdict }
  | {
      readonly code: "golden-light";
      readonly minutes: number;
      readonly start: string | null;
      readonly end: string | null;
      /** The day of the session; a start or an end on another is told with its day. */
      readonly date: string;
    }
  | { readonly code: "sky-outlook"; readonly outlook: CloudOutlookKind; readonly reasons: readonly string[] }
  /** Cloud is not known: when the blue hour is, which any sky has. */
  | {
      readonly code: "sky-not-known";
      readonly blueHour: { readonly start: string; readonly end: string } | null;
      readonly date: string;
    }
  | {
      readonly code: "contrast";
      readonly moment: MomentName;
      readonly instant: string;
      readonly contrastStops: number;
      readonly approach: ApproachKind;
      /** Frames of the bracket; 1 for a single frame. */
      readonly frames: number;
      readonly stepStops: number | null;
      /** As the graduated filter is marked; null where none is used. */
      readonly graduated: string | null;
    }
  | {
      readonly code: "moon";
      readonly illuminatedFraction: number;
      readonly phaseName: MoonPhaseName;
      readonly azimuthDeg: number;
      readonly altitudeDeg: number;
    }
  | {
      readonly code: "tide";
      readonly station: string;
      readonly heightM: number;
      readonly trend: "rising" | "falling";
      readonly moment: MomentName;
      readonly instant: string;
      /** The next high or low water; null where none is known. */
      readonly next: { readonly kind: "high" | "low"; readonly instant: string; readonly heightM: number } | null;
    }
  | { readonly code: "lens-fog"; readonly fogRisk: Exclude<FogRisk, "low">; readonly dewPointC: number }
  | {
      readonly code: "be-there";
      readonly arriveBy: string;
      readonly stayUntil: string;
      readonly items: readonly PackItemName[];
    };
