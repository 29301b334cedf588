import { ev100OnCurve } from "../exposure/light-curve";
import type { LightSums } from "../exposure/light-sums";
import { type CorrectedShutter, longExposureIn } from "../exposure/long-exposure";
import { readShutter, type ShutterSetting } from "../exposure/settings";
import { shutterMomentsIn } from "../exposure/shutter-moments";
import type { Filter } from "../filters/filter";
import { selectFilters } from "../filters/select";
import type { PlannedCamera } from "./camera";
import type { Kit } from "./kit";

/** A long exposure at one moment: the filters of the bag that come nearest to the time that is wanted. */
export interface LongExposurePlan {
  /** As the filters are marked; empty where none is needed. */
  readonly filters: readonly string[];
  readonly attenuationStops: number;
  /** The time if the light stood still. */
  readonly naive: ShutterSetting;
  /** The time that gathers the light while it fades or grows; null where the light of the session is not enough. */
  readonly corrected: ShutterSetting | null;
  /** How wrong the exposure is with the naive time [stops], negative for under-exposed; null where the light is not known for so long. */
  readonly naiveErrorStops: number | null;
  readonly meetsWanted: boolean;
}

/**
 * The filters and the time for a wanted long exposure that starts at an instant.
 * @param light on the ground that is photographed [EV100]
 * @param filters the bag; graduated ones take no part
 */
export function longExposureAt(
  light: LightSums,
  startMs: number,
  filters: readonly Filter[],
  wantedShutterSeconds: number,
  camera: PlannedCamera,
): LongExposurePlan | null {
  // too near the end of the known light to look into it
  if (startMs >= light.curve.endMs - 1000) return null;
  const { aperture, iso } = camera;
  readShutter(wantedShutterSeconds, undefined, "wantedShutterSeconds");
  // by the light at the instant alone: when else a choice would do, nobody asks here
  const ev100 = ev100OnCurve(light.curve, startMs);
  const best = filters.some(({ kind }) => kind !== "graduated")
    ? selectFilters({ filters, wantedShutterSeconds, aperture, iso, ev100, mostChoices: 1 }).choices[0]
    : undefined;
  const attenuationStops = best?.attenuationStops ?? 0;
  const { naive, corrected, errorStops } = longExposureIn(light, startMs, { aperture, iso, attenuationStops });
  return {
    filters: best?.marks ?? [],
    attenuationStops,
    naive,
    corrected: timeOf(corrected),
    naiveErrorStops: errorStops,
    meetsWanted: best?.meets ?? false,
  };
}

// Common practice: three in a holder; a fourth shows in the corners and in the flare
const MOST_STACKED = 3;

/** When, in a session, the strongest stack of the bag makes a wanted time the right one; null where it never does. */
export function whenKitReaches(
  light: LightSums,
  kit: Kit,
  wantedShutterSeconds: number,
  camera: PlannedCamera,
): number | null {
  const { aperture, iso } = camera;
  const attenuationStops = [...kit.neutralDensity, ...(kit.polarizer === null ? [] : [kit.polarizer])]
    .map((filter) => filter.attenuationStops)
    .sort((a, b) => b - a)
    .slice(0, MOST_STACKED)
    .reduce((sum, stops) => sum + stops, 0);
  if (attenuationStops === 0) return null;
  const moments = shutterMomentsIn(light, { aperture, iso, attenuationStops }, wantedShutterSeconds);
  return moments.kind === "crosses" ? (moments.moments[0]?.startMs ?? null) : null;
}

function timeOf(corrected: CorrectedShutter): ShutterSetting | null {
  return corrected.kind === "reached" ? corrected.shutter : null;
}
