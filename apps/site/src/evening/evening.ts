import type { Assumption, Caution, LightWindows, OutingMoment, OutingPlan, PackItem } from "@fieldstop/sdk";
import type { Spot } from "../club";

/** One spot and one session, wherever its facts came from. */
export interface Evening {
  readonly spot: Spot;
  readonly date: string;
  readonly timeZone: string;
  readonly light: LightWindows;
  /** Go or stay, in a sentence; absent until it is planned. */
  readonly verdict?: string;
  /** In order of time; none where the sun neither comes nor goes. */
  readonly moments: readonly OutingMoment[];
  readonly pack: readonly PackItem[];
  /** What the sky and the moon will do, a sentence each. */
  readonly sky: readonly string[];
  readonly tide: readonly string[];
  readonly cautions: readonly Caution[];
  readonly assumptions: readonly Assumption[];
  /** What the sources of weather and tide ask to be shown with them. */
  readonly attributions: readonly string[];
  readonly origin: Origin;
}

export type Origin =
  /** When it came. */
  | { readonly kind: "service"; readonly at: Date }
  /** Since when it is kept. */
  | { readonly kind: "kept"; readonly at: Date }
  /** Reckoned in the page from the kept ridge, under a clear sky. */
  | { readonly kind: "here" };

/** The moment that a session is judged by: the last direct light of an evening, or the first of a morning, or the next best. */
export function decisiveMoment({ moments, spot }: Pick<Evening, "moments" | "spot">): OutingMoment | undefined {
  const wanted: readonly OutingMoment["name"][] =
    spot.part === "evening"
      ? ["last-direct-light", "sunset", "lowest-sun", "blue-hour"]
      : ["first-direct-light", "sunrise", "lowest-sun", "blue-hour"];
  for (const name of wanted) {
    const moment = moments.find((one) => one.name === name);
    if (moment !== undefined) return moment;
  }
  return moments[0];
}

/** The moon of a plan in a sentence. */
export function moonInWords({ illuminatedFraction, phaseName, position }: OutingPlan["moon"]): string {
  const up = position.altitudeDeg > 0 ? `${Math.round(position.altitudeDeg)}° up` : "below the horizon";
  return `Moon: ${phaseName.replace("-", " ")}, ${Math.round(illuminatedFraction * 100)} % lit, ${up}.`;
}
