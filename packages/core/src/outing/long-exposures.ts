import { ev100OnCurve } from "../exposure/light-curve";
import type { LightSums } from "../exposure/light-sums";
import { type CorrectedShutter, longExposureIn } from "../exposure/long-exposure";
import { readAperture, readIso, readShutter, type ShutterSetting } from "../exposure/settings";
import { shutterWords } from "../exposure/shutter-words";
import type { Filter, FilterReading } from "../filters/filter";
import { type Combination, kitCombinations } from "../filters/select";
import { readKit, USUAL_MAX_STACKED } from "../filters/select-request";
import type { Approach } from "./approach";
import type { PlannedCamera } from "./camera";
import { type WayToReach, waysToReach } from "./ways-to-reach";

/** A long exposure at one moment: the filters of the bag that come nearest to the time that is wanted. */
export interface LongExposurePlan {
  /** As the filters are marked; empty where none is needed. */
  readonly filters: readonly string[];
  readonly attenuationStops: number;
  /** The time if the light stood still. */
  readonly naive: ShutterSetting;
  /** The time that gathers the light while it fades or grows; null where the light of the session is not enough. */
  readonly corrected: ShutterSetting | null;
  /** The time to set, as one sets it: `18 s`, `1 min 30 s`. */
  readonly set: string;
  /** How wrong the exposure is with the naive time [stops], negative for under-exposed; null where the light is not known for so long. */
  readonly naiveErrorStops: number | null;
  /** How much darker than the approach's own exposure it is taken to meet the time [stops]; negative for brighter. */
  readonly darkerStops: number;
  readonly meetsWanted: boolean;
  /** What would reach the wanted time where the bag cannot. */
  readonly toReach: readonly WayToReach[];
}

// Our own choice
const FARTHEST_FROM_GROUND_STOPS = 10;

/** Long exposures of one outing, by the instant at which they start. */
export interface LongExposures {
  /** The best at an instant [Unix ms], for the exposure that was chosen there; null where none can be advised. */
  at(startMs: number, approach: LongExposureApproach): LongExposurePlan | null;
  /** Whether the wanted time is met at an instant with an exposure so far over the ground's [stops]. */
  meetsAt(startMs: number, overGround: OverGround): boolean;
}

/** Of an approach, what a long exposure is made of. */
export interface LongExposureApproach extends Pick<Approach, "exposeForEv100" | "keepsHighlightsEv100"> {
  /** Whether the polarizer does something for this picture, beside costing light. */
  readonly polarizerHelps: boolean;
}

/** The range of exposures that a long exposure may have, against the ground's light [stops]. */
export interface OverGround {
  readonly brightest: number;
  readonly chosen: number;
  readonly polarizerHelps: boolean;
}

/** Common practice: nobody exposes a landscape for longer [s]. */
export const LONGEST_ADVISED_SECONDS = 900;
// Our own choice: half a stop of time is hardly seen in water or cloud
const MEETS_WITHIN_STOPS = 0.5;
// Our own choice: a frame up to a stop darker is lifted afterwards before another filter is put on
const MOST_DARKER_STOPS = 1;

/**
 * Make the long exposures of an outing: the approach's own exposure behind more filters, so that the same highlights hold. Where no stack of the bag
 * gives the time exactly, the frame may be up to a stop darker, and as much brighter as the highlights bear.
 * @param light on the ground that is photographed [EV100]
 * @param filters the bag; graduated ones take no part
 * @param wantedShutterSeconds [s]
 */
export function longExposures(
  light: LightSums,
  filters: readonly Filter[],
  wantedShutterSeconds: number,
  camera: PlannedCamera,
): LongExposures {
  const asked = readShutter(wantedShutterSeconds, undefined, "wantedShutterSeconds").seconds;
  const wanted = Math.min(asked, LONGEST_ADVISED_SECONDS);
  const kit = filters.some(({ kind }) => kind !== "graduated") ? readKit(filters, []) : [];
  const stacks = kit.length === 0 ? [NO_FILTER] : kitCombinations(kit, USUAL_MAX_STACKED);
  const aperture = readAperture(camera.aperture).exact;
  const iso = readIso(camera.iso).exact;
  /** What the wanted time exposes for without filters [EV100]. */
  const wantedEv100 = Math.log2((aperture * aperture * 100) / (iso * wanted));
  return {
    at(startMs, approach) {
      // too near the end of the known light to look into it
      if (startMs >= light.curve.endMs - 1000) return null;
      const ground = ev100OnCurve(light.curve, startMs);
      const over = overGround(approach, ground);
      // so far from the ground's light that the frame is of something else, as of stars over black ground
      if (Math.abs(over.chosen) > FARTHEST_FROM_GROUND_STOPS) return null;
      for (const { stack, overGroundStops, errorStops } of ranked(stacks, wantedEv100, ground, over)) {
        if (wanted * 2 ** errorStops > LONGEST_ADVISED_SECONDS) continue;
        const found = longExposureIn(light, startMs, {
          aperture: camera.aperture,
          iso: camera.iso,
          attenuationStops: stack.attenuationStops,
          compensationStops: -overGroundStops,
        });
        const corrected = timeOf(found.corrected);
        if (corrected !== null && corrected.seconds > LONGEST_ADVISED_SECONDS) continue;
        const meetsWanted = Math.abs(errorStops) <= MEETS_WITHIN_STOPS && asked === wanted;
        return {
          filters: stack.filters.map((i) => (kit[i] as FilterReading).mark),
          attenuationStops: stack.attenuationStops,
          naive: found.naive,
          corrected,
          set: shutterWords(corrected ?? found.naive),
          naiveErrorStops: found.errorStops,
          darkerStops: overGroundStops - over.chosen,
          meetsWanted,
          toReach: meetsWanted
            ? []
            : waysToReach({ light, startMs, errorStops, aperture, iso, isTooLong: asked > wanted }),
        };
      }
      return null;
    },
    meetsAt(startMs, over) {
      const ground = ev100OnCurve(light.curve, startMs);
      const { from, to } = boundsOf(over);
      return stacks.some(({ attenuationStops }) => {
        const exact = wantedEv100 + attenuationStops - ground;
        return exact >= from && exact <= to;
      });
    },
  };
}

/** What of an approach a long exposure may use, against the ground's light. */
export function overGround(
  { exposeForEv100, keepsHighlightsEv100, polarizerHelps }: LongExposureApproach,
  groundEv100: number,
): OverGround {
  const chosen = Math.max(exposeForEv100, keepsHighlightsEv100) - groundEv100;
  return { brightest: keepsHighlightsEv100 - groundEv100, chosen, polarizerHelps };
}

const NO_FILTER: Combination = { filters: [], attenuationStops: 0, polarizers: 0 };

interface RankedStack {
  readonly stack: Combination;
  /** The exposure, against the ground's light [stops]; positive for a darker frame. */
  readonly overGroundStops: number;
  /** How much longer than wanted the time is [stops]; negative for shorter. */
  readonly errorStops: number;
}

/** From the brightest to the darkest exposure that a long exposure may have, against the ground's light [stops]. */
function boundsOf({ brightest, chosen }: OverGround): { readonly from: number; readonly to: number } {
  return { from: Math.max(brightest, chosen - MEETS_WITHIN_STOPS), to: chosen + MOST_DARKER_STOPS };
}

/** Stacks by how well they meet the time; then without a polarizer that does little, near the chosen exposure, with few filters. */
function ranked(
  stacks: readonly Combination[],
  wantedEv100: number,
  groundEv100: number,
  over: OverGround,
): RankedStack[] {
  const { from, to } = boundsOf(over);
  const { chosen, polarizerHelps } = over;
  return stacks
    .map((stack) => {
      const exact = wantedEv100 + stack.attenuationStops - groundEv100;
      const overGroundStops = Math.max(from, Math.min(exact, to));
      const errorStops = exact - overGroundStops;
      const misses = Math.max(0, Math.abs(errorStops) - MEETS_WITHIN_STOPS);
      const poorFilter = !polarizerHelps && stack.polarizers > 0 ? 1 : 0;
      return { stack, overGroundStops, errorStops, misses, poorFilter, apart: Math.abs(exact - chosen) };
    })
    .sort(
      (a, b) =>
        Math.round((a.misses - b.misses) * 20) ||
        a.poorFilter - b.poorFilter ||
        Math.round((a.apart - b.apart) * 20) ||
        a.stack.filters.length - b.stack.filters.length,
    );
}

function timeOf(corrected: CorrectedShutter): ShutterSetting | null {
  return corrected.kind === "reached" ? corrected.shutter : null;
}
