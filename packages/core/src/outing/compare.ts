import { DomainError, requireInRange } from "../domain-error";
import { skyAgainstGround } from "./approach-reasons";
import { type OutingPlan, type OutingRequest, planOuting } from "./plan";
import type { OutingMoment } from "./plan-moment";

export type Criterion = "golden-light" | "late-light" | "contrast" | "cloud";

/** How much each criterion counts, 0 to 10; one that is absent counts 1, and 0 leaves it out. */
export type CriterionWeights = { readonly [Name in Criterion]?: number | undefined };

/** One part of a score, and what it rests on. */
export interface ScorePart {
  readonly criterion: Criterion;
  /** 0 worst to 1 best. */
  readonly value: number;
  readonly weight: number;
  readonly text: string;
}

export interface RankedOuting {
  /** 1 is the best; equal scores keep the order in which they were asked for. */
  readonly rank: number;
  /** Weighted mean of the parts, 0 to 1. */
  readonly score: number;
  readonly parts: readonly ScorePart[];
  /** Go or stay. */
  readonly verdict: OutingPlan["verdict"];
  readonly place: OutingPlan["place"];
  readonly date: string;
  readonly arriveBy: string;
  readonly stayUntil: string;
  /** Direct light on what is photographed [RFC 3339], the last or in a morning the first of the session; null where there is none. */
  readonly directLightInstant: string | null;
}

export interface ScoredOuting extends Omit<RankedOuting, "rank"> {
  readonly plan: OutingPlan;
}

// Our own choices, no source: what counts as all one could wish for
const FULL_GOLDEN_MINUTES = 45;
const ALL_LOST_MINUTES = 90;
const EASY_CONTRAST_STOPS = 2;
const HARD_CONTRAST_STOPS = 8;
const OUTLOOK_VALUE = { unlikely: 0, possible: 0.5, likely: 1 } as const;

/**
 * Plan several outings and rank them, the score of each explained by its parts.
 * @param requests the outings, as for {@link planOuting}: 1 to 100
 * @param weights how much each criterion counts, 0 to 10
 * @returns best first
 * @throws DomainError as {@link planOuting}, and for weights out of range or all zero
 * Source: the criteria and their ends are our own choice and are told with each part. Held in tests/core/outing/compare.spec.ts.
 */
export function compareOutings(requests: readonly OutingRequest[], weights: CriterionWeights = {}): RankedOuting[] {
  requireInRange("outings", requests.length, 1, 100);
  return rankOutings(requests.map((request) => scoreOuting(planOuting(request), weights)));
}

/** Score one plan. A criterion that nothing is known of, as cloud without a forecast, takes no part. */
export function scoreOuting(plan: OutingPlan, weights: CriterionWeights = {}): ScoredOuting {
  const parts = [goldenLight(plan), lateLight(plan), contrast(plan), cloud(plan)]
    .flatMap((part) => (part === null ? [] : [{ ...part, weight: weightOf(weights, part.criterion) }]))
    .filter(({ weight }) => weight > 0);
  const total = parts.reduce((sum, { weight }) => sum + weight, 0);
  if (total === 0) {
    throw new DomainError({ param: "weights", given: 0, allowed: "at least one criterion that counts and is known" });
  }
  const { verdict, place, date, arriveBy, stayUntil } = plan;
  return {
    plan,
    score: parts.reduce((sum, { value, weight }) => sum + value * weight, 0) / total,
    parts,
    verdict,
    place,
    date,
    arriveBy,
    stayUntil,
    directLightInstant: edgeMoment(plan)?.instant ?? null,
  };
}

/** Rank plans, best first. */
export function rankOutings(scored: readonly ScoredOuting[]): RankedOuting[] {
  return [...scored].sort((a, b) => b.score - a.score).map(({ plan: _, ...outing }, i) => ({ rank: i + 1, ...outing }));
}

function weightOf(weights: CriterionWeights, criterion: Criterion): number {
  return requireInRange(`weights.${criterion}`, weights[criterion] ?? 1, 0, 10);
}

type Part = Omit<ScorePart, "weight">;

/** The moment at which direct light goes, or in a morning comes. */
function edgeMoment({ moments }: OutingPlan): OutingMoment | undefined {
  return moments.find(({ name }) => name === "last-direct-light" || name === "first-direct-light");
}

/** Direct light while the sun is low: how much of it there is in the golden hours of the session's part of the day. */
function goldenLight(plan: OutingPlan): Part {
  const minutes = plan.sessionLight.golden.reduce((sum, stretch) => sum + stretch.minutes, 0);
  const text = `${Math.round(minutes)} minutes of direct light in the golden hour; ${FULL_GOLDEN_MINUTES} are all one could wish for.`;
  return { criterion: "golden-light", value: Math.min(1, minutes / FULL_GOLDEN_MINUTES), text };
}

/** How near to the almanac's rise or set the direct light lasts. */
function lateLight(plan: OutingPlan): Part {
  const edge = edgeMoment(plan);
  const sun = plan.moments.find(({ name }) => name === "sunset" || name === "sunrise");
  if (edge === undefined || sun === undefined) {
    const never = edge === undefined && sun !== undefined;
    const text = never
      ? "No direct light reaches what is photographed."
      : "The sun neither rises nor sets in the session.";
    return { criterion: "late-light", value: never ? 0 : 1, text };
  }
  const minutes = Math.abs(Date.parse(sun.instant) - Date.parse(edge.instant)) / 60_000;
  const text = `Direct light ${edge.name === "last-direct-light" ? "goes" : "comes"} ${Math.round(minutes)} minutes from the almanac's ${sun.name}.`;
  return { criterion: "late-light", value: Math.max(0, 1 - minutes / ALL_LOST_MINUTES), text };
}

/** How easily the scene is held, at the moment the direct light goes or comes. */
function contrast(plan: OutingPlan): Part {
  const moment = edgeMoment(plan) ?? (plan.moments[0] as OutingMoment);
  const { contrastStops } = moment;
  const value = 1 - (contrastStops - EASY_CONTRAST_STOPS) / (HARD_CONTRAST_STOPS - EASY_CONTRAST_STOPS);
  const text = `At ${moment.name.replaceAll("-", " ")} ${skyAgainstGround(contrastStops)}.`;
  return { criterion: "contrast", value: Math.max(0, Math.min(1, value)), text };
}

function cloud({ cloudOutlook }: OutingPlan): Part | null {
  if (cloudOutlook === undefined) return null;
  return { criterion: "cloud", value: OUTLOOK_VALUE[cloudOutlook.outlook], text: cloudOutlook.reasons.join(" ") };
}
