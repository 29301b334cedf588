import type { HorizonReport } from "../light/light-report";
import { type CloudOutlook, skyIsClosed } from "../sky/cloud-outlook";
import type { FogRisk } from "../sky/dew-point";
import type { CloudCover } from "../sky/sky-types";
import type { Moment } from "./moments";
import type { OutingNight } from "./night";
import type { SessionLightReport } from "./session-light";

/** Whether to go: our own three words. */
export type VerdictGrade = "go" | "could-go" | "stay-home";

export type VerdictReasonCode =
  | "weather-not-known"
  | "terrain-not-known"
  | "low-cloud"
  | "cloud-may-colour"
  | "little-cloud"
  | "direct-light"
  | "direct-light-cut-short"
  | "no-direct-light"
  | "midnight-sun"
  | "polar-twilight"
  | "soft-light"
  | "sun-patches"
  | "high-sun"
  | "dark-sky"
  | "moonlight"
  | "lens-fog";

export interface VerdictReason {
  readonly code: VerdictReasonCode;
  readonly text: string;
}

/** How sure a verdict is. */
export type Sureness = "sure" | "fairly-sure" | "unsure";

/** Go or stay, with the reasons in order of weight. */
export interface Verdict {
  readonly grade: VerdictGrade;
  readonly reasons: readonly VerdictReason[];
  readonly sureness: Sureness;
  /** One sentence. */
  readonly text: string;
}

export interface VerdictRequest {
  readonly light: SessionLightReport;
  readonly horizon: HorizonReport;
  readonly moments: readonly (Pick<Moment, "name"> & { readonly directLight: boolean })[];
  readonly minutesLostToTerrain: number;
  readonly cloudCover: CloudCover | undefined;
  readonly cloudOutlook: CloudOutlook | undefined;
  readonly fogRisk: FogRisk | undefined;
  readonly night: OutingNight | undefined;
  /** Whether the photograph shows no sky, or shade under trees: then soft light is what is wanted. */
  readonly wantsSoftLight: boolean;
  /** [1] */
  readonly moonlit: number;
}

// Our own choices, no source: what is worth the way
const GOOD_MINUTES = 20;
const SOME_MINUTES = 10;
const CUT_SHORT_MINUTES = 30;
const POINTS = { go: 2, "could-go": 1 } as const;

/**
 * Weigh a session: how much direct light there is and how sure it is, what the sky will do, and what spoils it. Without cloud it speaks of the
 * geometry alone and says so first.
 * Source: the weights are our own; what each reason says comes from its own part of the plan.
 */
export function verdictOf(request: VerdictRequest): Verdict {
  const reasons: VerdictReason[] = [];
  const points = request.wantsSoftLight
    ? softLightPoints(request, reasons)
    : lightPoints(request, reasons) + skyPoints(request, reasons);
  if (request.fogRisk === "likely") {
    reasons.push({ code: "lens-fog", text: "Fog on the lens is likely." });
  }
  const missing = isUnread(request.horizon);
  const noTerrain = request.horizon.kind === "flat";
  if (missing || noTerrain) {
    const text =
      missing && !noTerrain
        ? "Some hills could not be read; direct light may go earlier or come later."
        : "No hills are counted; direct light is that of a level horizon.";
    reasons.unshift({ code: "terrain-not-known", text });
  }
  const knowsSky = request.cloudOutlook !== undefined;
  if (!knowsSky) {
    reasons.unshift({ code: "weather-not-known", text: "Cloud is not known; this speaks of the geometry alone." });
  }
  const grade: VerdictGrade = points >= POINTS.go ? "go" : points >= POINTS["could-go"] ? "could-go" : "stay-home";
  return { grade, reasons, sureness: surenessOf(request, missing), text: sentence(grade, knowsSky, reasons) };
}

/** Whether ground that there is data for could not be read; where there is none at all lies mostly the sea. */
function isUnread({ missingTiles = [] }: HorizonReport): boolean {
  return missingTiles.some(({ reason }) => !reason.startsWith("absent"));
}

// Our own choice: so much low cloud leaves nothing to hope for
const SURELY_CLOSED_PERCENT = 95;

function surenessOf({ cloudCover, cloudOutlook }: VerdictRequest, isTerrainMissing: boolean): Sureness {
  if (cloudCover === undefined || isTerrainMissing) return "unsure";
  if (cloudCover.low >= SURELY_CLOSED_PERCENT) return "sure";
  return cloudOutlook?.outlook === "possible" ? "unsure" : "fairly-sure";
}

/** A frame without sky, or under trees, is best under cloud or in shade: sun makes patches that no frame holds. */
function softLightPoints({ cloudCover, moments }: VerdictRequest, reasons: VerdictReason[]): number {
  const soft =
    (cloudCover !== undefined && skyIsClosed(cloudCover)) || moments.every(({ directLight }) => !directLight);
  if (soft) {
    reasons.push({ code: "soft-light", text: "The light is soft, as a frame without sky or a wood wants it." });
    return POINTS.go;
  }
  reasons.push({
    code: "sun-patches",
    text: "The sun makes bright patches among the shade; cloud would be better.",
  });
  return POINTS["could-go"];
}

function lightPoints(
  { light, moments, minutesLostToTerrain, night, moonlit }: VerdictRequest,
  reasons: VerdictReason[],
): number {
  const minutes = light.golden.reduce((sum, stretch) => sum + stretch.minutes, 0);
  const add = (code: VerdictReasonCode, text: string): void => {
    reasons.push({ code, text });
  };
  if (light.part === "midnight-sun" && minutes > 0) {
    add("midnight-sun", `The sun does not set, with ${hours(minutes)} of low direct light.`);
    return 2;
  }
  if (light.part === "polar-night") {
    add("polar-twilight", "The sun does not rise, and what light there is comes from the twilight round noon.");
    return light.blueHour.length > 0 || moments.some(({ name }) => name === "civil-dawn") ? 2 : 1;
  }
  if (night !== undefined && minutes < SOME_MINUTES) {
    const dark = night.darkHours.length > 0;
    add(
      dark ? "dark-sky" : "moonlight",
      dark ? "There are hours without sun and moon." : `The moon is up and ${Math.round(moonlit * 100)} % lit.`,
    );
    return 2;
  }
  if (minutes <= 0) {
    const rises = moments.some(({ name }) => name === "sunset" || name === "sunrise");
    if (rises) add("no-direct-light", "No direct light of the low sun reaches what is photographed.");
    else add("high-sun", "The sun stays high, and its light is hard.");
    return rises && light.blueHour.length === 0 ? 0 : 1;
  }
  add("direct-light", `${hours(minutes)} of direct light from a low sun.`);
  if (minutesLostToTerrain >= CUT_SHORT_MINUTES) {
    add(
      "direct-light-cut-short",
      `Higher ground takes ${Math.round(minutesLostToTerrain)} minutes of the day's direct light.`,
    );
  }
  return minutes >= GOOD_MINUTES ? 2 : 1;
}

function skyPoints({ cloudCover, cloudOutlook }: VerdictRequest, reasons: VerdictReason[]): number {
  if (cloudOutlook === undefined || cloudCover === undefined) return 0;
  const text = cloudOutlook.reasons.join(" ");
  if (skyIsClosed(cloudCover)) {
    reasons.unshift({ code: "low-cloud", text });
    return -2;
  }
  reasons.push({ code: cloudOutlook.outlook === "unlikely" ? "little-cloud" : "cloud-may-colour", text });
  return cloudOutlook.outlook === "likely" ? 1 : 0;
}

const WORDS: Readonly<Record<VerdictGrade, string>> = {
  go: "go",
  "could-go": "it could be worth it",
  "stay-home": "stay home",
};

function sentence(grade: VerdictGrade, knowsSky: boolean, reasons: readonly VerdictReason[]): string {
  const weighty = reasons.find(({ code }) => code !== "weather-not-known" && code !== "terrain-not-known");
  const because = weighty === undefined ? "." : `: ${weighty.text.charAt(0).toLowerCase()}${weighty.text.slice(1)}`;
  if (!knowsSky) return `If the sky is open, ${WORDS[grade]}${because}`;
  return `${WORDS[grade].charAt(0).toUpperCase()}${WORDS[grade].slice(1)}${because}`;
}

function hours(minutes: number): string {
  const whole = Math.round(minutes);
  if (whole < 120) return whole === 1 ? "1 minute" : `${whole} minutes`;
  return `${Math.round(minutes / 30) / 2} hours`;
}
