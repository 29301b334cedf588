import type { ForecastHeadline, ForecastLine, LightEdge } from "./forecast-lines";
import type { OutingPlan } from "./plan";
import type { OutingMoment } from "./plan-moment";

export type ForecastSession = "evening" | "morning";

export interface ForecastWords {
  readonly headline: ForecastHeadline;
  /** Five to eight lines: whether to go, the light, the sky, contrast and approach, the moon, the tide, fog on the lens, when to be there. */
  readonly summary: readonly ForecastLine[];
}

/** An edge of the light that lies this near to the almanac's is the horizon's [ms] */
const SAME_EDGE_MS = 60_000;

/**
 * Tell what a plan of one evening or morning comes to, as codes with their values: whoever shows it makes the sentences.
 * @param plan of a named session
 * @param session which one it was planned for
 * @returns the headline, and the summary in the order in which it is read
 * @example forecastWords(planOuting({ ...evening, session: "evening" }), "evening").headline.code // "light-goes"
 */
export function forecastWords(plan: OutingPlan, session: ForecastSession): ForecastWords {
  const edge = edgeOf(plan, session);
  const told = edge ?? plan.moments.find(({ name }) => name === "lowest-sun") ?? (plan.moments[0] as OutingMoment);
  return {
    headline: headlineOf(plan, session, edge),
    summary: [
      { code: "verdict", verdict: plan.verdict },
      goldenLight(plan),
      sky(plan),
      contrast(told),
      moon(plan),
      ...tide(plan, told),
      ...lensFog(plan),
      {
        code: "be-there",
        arriveBy: plan.arriveBy,
        stayUntil: plan.stayUntil,
        items: [...new Set(plan.pack.map(({ item }) => item))],
      },
    ],
  };
}

/** The moment at which direct light goes, or in a morning comes. */
function edgeOf({ moments }: OutingPlan, session: ForecastSession): OutingMoment | undefined {
  const wanted = session === "evening" ? "last-direct-light" : "first-direct-light";
  return moments.find(({ name }) => name === wanted);
}

function headlineOf(plan: OutingPlan, session: ForecastSession, edge: OutingMoment | undefined): ForecastHeadline {
  const lowest = plan.moments.find(({ name }) => name === "lowest-sun");
  if (plan.sessionLight.part === "midnight-sun" && lowest !== undefined) {
    const directLight = plan.sessionLight.golden.length > 0 || lowest.directLight;
    return directLight
      ? { code: "sun-stays-up", instant: lowest.instant, directLight: lowest.directLight }
      : { code: "no-direct-light", almanacInstant: null };
  }
  const almanac = plan.moments.find(({ name }) => name === (session === "evening" ? "sunset" : "sunrise"));
  if (edge !== undefined) {
    return { code: session === "evening" ? "light-goes" : "light-comes", ...edgeDetails(plan, session, edge, almanac) };
  }
  if (almanac !== undefined) return { code: "no-direct-light", almanacInstant: almanac.instant };
  const highest = plan.moments.find(({ name }) => name === "highest-sun");
  return {
    code: "sun-stays-down",
    highest: highest === undefined ? null : { instant: highest.instant, trueAltitudeDeg: highest.sun.trueAltitudeDeg },
  };
}

function edgeDetails(
  { light }: OutingPlan,
  session: ForecastSession,
  edge: OutingMoment,
  almanac: OutingMoment | undefined,
): LightEdge {
  const edgeMs = Date.parse(edge.instant);
  const inside =
    almanac === undefined ? null : (Date.parse(almanac.instant) - edgeMs) * (session === "evening" ? 1 : -1);
  const reported = (light.subjectLight ?? light.directLight).intervals
    .map((interval) =>
      session === "evening"
        ? { instant: interval.end, azimuthDeg: interval.endAzimuthDeg, cause: interval.endCause }
        : { instant: interval.start, azimuthDeg: interval.startAzimuthDeg, cause: interval.startCause },
    )
    .find(({ instant }) => Math.abs(Date.parse(instant) - edgeMs) < SAME_EDGE_MS);
  // an evening that reaches past midnight ends on a day that the windows do not tell of
  const unreported = inside !== null && Math.abs(inside) < SAME_EDGE_MS ? "horizon" : "terrain";
  const cause = reported === undefined || reported.cause === "day-boundary" ? unreported : reported.cause;
  return {
    instant: edge.instant,
    azimuthDeg: reported?.azimuthDeg ?? edge.sun.azimuthDeg,
    cause,
    minutesInside: inside === null ? null : inside / 60_000,
    almanacInstant: almanac?.instant ?? null,
  };
}

function goldenLight({ sessionLight: { golden }, date }: OutingPlan): ForecastLine {
  return {
    code: "golden-light",
    minutes: golden.reduce((sum, stretch) => sum + stretch.minutes, 0),
    start: golden[0]?.start ?? null,
    end: golden.at(-1)?.end ?? null,
    date,
  };
}

function sky({ cloudOutlook, sessionLight: { blueHour }, date }: OutingPlan): ForecastLine {
  if (cloudOutlook !== undefined) return { code: "sky-outlook", ...cloudOutlook };
  // the session's own, which may lie past midnight, and not last night's
  const blue = blueHour.at(-1);
  return { code: "sky-not-known", blueHour: blue === undefined ? null : { start: blue.start, end: blue.end }, date };
}

function contrast({ name, instant, contrastStops, approach, bracket, graduated }: OutingMoment): ForecastLine {
  return {
    code: "contrast",
    moment: name,
    instant,
    contrastStops,
    approach: approach.kind,
    frames: bracket?.count ?? 1,
    stepStops: bracket?.stepStops ?? null,
    graduated: graduated?.mark ?? null,
  };
}

function moon({ moon: { illuminatedFraction, phaseName, position } }: OutingPlan): ForecastLine {
  const { azimuthDeg, altitudeDeg } = position;
  return { code: "moon", illuminatedFraction, phaseName, azimuthDeg, altitudeDeg };
}

function tide({ tide: water }: OutingPlan, told: OutingMoment): ForecastLine[] {
  const at = water?.moments.find(({ name }) => name === told.name);
  if (water === undefined || at === undefined) return [];
  const next = water.extremes.find(({ instant }) => Date.parse(instant) > Date.parse(at.instant)) ?? null;
  const { name: moment, instant, heightM, trend } = at;
  return [{ code: "tide", station: water.station.name, heightM, trend, moment, instant, next }];
}

function lensFog({ dew }: OutingPlan): ForecastLine[] {
  if (dew === undefined || dew.fogRisk === "low") return [];
  return [{ code: "lens-fog", fogRisk: dew.fogRisk, dewPointC: dew.dewPointC }];
}
