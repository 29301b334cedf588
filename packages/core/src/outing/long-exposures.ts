import { ev100OnCurve } from "../exposure/light-curve";
import type { LightSums } from "../exposure/light-sums";
import { type CorrectedShutter, longExposureIn } from "../exposure/long-exposure";
import { readShutter, type ShutterSetting } from "../exposure/settings";
import { shutterMomentsIn } from "../exposure/shutter-moments";
import { readBaseExposure } from "../filters/base-exposure";
import type { Filter, FilterReading } from "../filters/filter";
import { isWithin, kitCombinations, rankCombinations } from "../filters/select";
import { readKit, USUAL_MAX_STACKED, USUAL_TOLERANCE_STOPS } from "../filters/select-request";
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
 * The filters and the time for a wanted long exposure, by the instant at which it starts [Unix ms]; null too near the end of the light.
 * @param light on the ground that is photographed [EV100]
 * @param filters the bag; graduated ones take no part
 */
export function longExposures(
  light: LightSums,
  filters: readonly Filter[],
  wantedShutterSeconds: number,
  { aperture, iso }: PlannedCamera,
): (startMs: number) => LongExposurePlan | null {
  const shutter = readShutter(wantedShutterSeconds, undefined, "wantedShutterSeconds");
  const wanted = { min: shutter, max: shutter };
  const kit = filters.some(({ kind }) => kind !== "graduated") ? readKit(filters, []) : [];
  const combinations = kit.length === 0 ? [] : kitCombinations(kit, USUAL_MAX_STACKED);
  return (startMs) => {
    // too near the end of the known light to look into it
    if (startMs >= light.curve.endMs - 1000) return null;
    // by the light at the instant alone: when else a choice would do, nobody asks here
    const ev100 = ev100OnCurve(light.curve, startMs);
    const base = readBaseExposure({ aperture, iso, ev100 }, "marks").shutter as ShutterSetting;
    const best = rankCombinations(combinations, wanted, base)[0];
    const attenuationStops = best?.attenuationStops ?? 0;
    const { naive, corrected, errorStops } = longExposureIn(light, startMs, { aperture, iso, attenuationStops });
    return {
      filters: best?.filters.map((i) => (kit[i] as FilterReading).mark) ?? [],
      attenuationStops,
      naive,
      corrected: timeOf(corrected),
      naiveErrorStops: errorStops,
      meetsWanted: best !== undefined && isWithin(best.errorStops, USUAL_TOLERANCE_STOPS),
    };
  };
}

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
    .slice(0, USUAL_MAX_STACKED)
    .reduce((sum, stops) => sum + stops, 0);
  if (attenuationStops === 0) return null;
  const moments = shutterMomentsIn(light, { aperture, iso, attenuationStops }, wantedShutterSeconds);
  return moments.kind === "crosses" ? (moments.moments[0]?.startMs ?? null) : null;
}

function timeOf(corrected: CorrectedShutter): ShutterSetting | null {
  return corrected.kind === "reached" ? corrected.shutter : null;
}
