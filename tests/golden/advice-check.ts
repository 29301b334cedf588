import type { OutingMoment, OutingPlan } from "@fieldstop/core";

/** One thing that is expected of a plan, as the situations file has it. */
export interface Expectation {
  /** A moment's name, `all`, `any`, or `plan`. */
  readonly moment: string;
  readonly path: string;
  readonly relation: keyof typeof RELATIONS | "present" | "absent";
  readonly value: unknown;
  readonly why: string;
  readonly source: string;
  readonly when?: { readonly path: string; readonly relation: keyof typeof RELATIONS; readonly value: unknown };
  readonly ifPresent?: boolean;
}

type Camera = { readonly headroomStops?: number };
type Root = OutingMoment | OutingPlan;

const ms = (instant: string): number => Date.parse(instant);

/** Figures that are worked out of an answer, by their names. */
function derived(name: string, root: Root, plan: OutingPlan, camera: Camera): number | boolean | undefined {
  const [key = "", a = "", b = ""] = name.split(":");
  const at = (moment: string): OutingMoment | undefined => plan.moments.find((one) => one.name === moment);
  const minutes = (from: string | undefined, to: string | undefined): number | undefined =>
    from === undefined || to === undefined ? undefined : (ms(to) - ms(from)) / 60_000;
  const moment = root as OutingMoment;
  const headroom = camera.headroomStops ?? 3;
  const filter = moment.graduated?.stops ?? 0;
  const figures: Readonly<Record<string, () => number | boolean | undefined>> = {
    clipStops: () => {
      const darkest = Math.min(0, ...(moment.bracket?.frames ?? []).map(({ biasStops }) => biasStops));
      return moment.ev100.sky - filter - (moment.exposure.ev100 - darkest + headroom);
    },
    longClipStops: () => {
      const long = moment.longExposure;
      if (long === undefined) return undefined;
      const { aperture, iso } = moment.exposure;
      const set = Math.log2((aperture.exact ** 2 / long.naive.seconds) * (100 / iso.exact));
      return moment.ev100.sky - filter - (set + long.attenuationStops + headroom);
    },
    underGroundStops: () => moment.exposure.ev100 - moment.ev100.litGround,
    skyAfterGraduatedStops: () => moment.graduated && moment.contrastStops - filter,
    reflectionOverSkyStops: () => moment.graduated && moment.ev100.stillWater - (moment.ev100.sky - filter),
    marginUnderUncertainty: () => moment.approach.marginStops < moment.uncertaintyStops,
    insideSession: () => ms(plan.arriveBy) <= ms(moment.instant) && ms(moment.instant) <= ms(plan.stayUntil),
    dayOffset: () => Math.round((ms(moment.instant.slice(0, 10)) - ms(plan.date)) / 864e5),
    stayMinusArriveHours: () => (ms(plan.stayUntil) - ms(plan.arriveBy)) / 36e5,
    firstMomentLocalHour: () => {
      const instant = plan.moments[0]?.instant;
      if (instant === undefined) return undefined;
      return Number(instant.slice(11, 13)) + Number(instant.slice(14, 16)) / 60;
    },
    minutes: () => minutes(at(a)?.instant, at(b)?.instant),
    stayAfter: () => minutes(at(a)?.instant, plan.stayUntil),
    arriveBefore: () => minutes(plan.arriveBy, at(a)?.instant),
  };
  const figure = figures[key];
  if (figure === undefined) throw new Error(`no figure ${key}`);
  return figure();
}

function valueAt(root: Root, path: string, plan: OutingPlan, camera: Camera): unknown {
  if (path.startsWith("derived.")) return derived(path.slice("derived.".length), root, plan, camera);
  let here: unknown[] = [root];
  let isList = false;
  for (const part of path.split(".")) {
    const key = part.replace(/\[\]$/, "");
    here = here.map((one) => (one as Record<string, unknown>)[key]).filter((one) => one !== undefined && one !== null);
    if (part.endsWith("[]")) {
      here = here.flat();
      isList = true;
    }
  }
  return isList ? here : here[0];
}

const matches = (list: unknown, pattern: unknown): boolean =>
  (list as string[]).some((one) => new RegExp(pattern as string).test(one));

const RELATIONS = {
  eq: (x: unknown, v: unknown) => x === v,
  in: (x: unknown, v: unknown) => (v as unknown[]).includes(x),
  notIn: (x: unknown, v: unknown) => !(v as unknown[]).includes(x),
  gte: (x: unknown, v: unknown) => (x as number) >= (v as number) - 1e-9,
  lte: (x: unknown, v: unknown) => (x as number) <= (v as number) + 1e-9,
  between: (x: unknown, v: unknown) => (x as number) >= (v as number[])[0]! && (x as number) <= (v as number[])[1]!,
  withinFactor: (x: unknown, v: unknown) => {
    const [target, factor] = v as [number, number];
    return (x as number) >= target / factor && (x as number) <= target * factor;
  },
  includesMatch: matches,
  excludesMatch: (x: unknown, v: unknown) => !matches(x, v),
} as const;

/** Whether one moment or the plan is as expected; undefined where there is nothing to check. */
function holds(root: Root, expected: Expectation, plan: OutingPlan, camera: Camera): boolean | undefined {
  const { when, path, relation, value } = expected;
  if (when !== undefined) {
    const given = valueAt(root, when.path, plan, camera);
    if (given === undefined || !RELATIONS[when.relation](given, when.value)) return undefined;
  }
  const found = valueAt(root, path, plan, camera);
  if (relation === "present") return found !== undefined;
  if (relation === "absent") return found === undefined;
  if (found === undefined) return expected.ifPresent === true ? undefined : false;
  return RELATIONS[relation](found, value);
}

/** Whether a plan is as expected. */
export function isAsExpected(expected: Expectation, plan: OutingPlan, camera: Camera): boolean {
  if (expected.moment === "plan") return holds(plan, expected, plan, camera) !== false;
  const isEach = expected.moment === "all" || expected.moment === "any";
  const moments = isEach ? plan.moments : plan.moments.filter(({ name }) => name === expected.moment);
  const told = moments.map((moment) => holds(moment, expected, plan, camera)).filter((one) => one !== undefined);
  if (expected.moment === "any") return told.some(Boolean);
  if (moments.length === 0) return expected.ifPresent === true || expected.moment === "all";
  return told.every(Boolean);
}
