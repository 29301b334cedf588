import type { ForecastLine, LightEdge, MoonPhaseName } from "@fieldstop/core";
import { clockTime, compassPoint, listOf, metres, minutesText, stopsApart, withMinus } from "./figures";
import type { Messages } from "./messages";

const moment: Messages["moment"] = {
  "hour-before-last-light": "an hour before the last light",
  "last-direct-light": "the last direct light",
  sunset: "sunset",
  "cloud-lit-end": "the end of light on the cloud",
  "cloud-lit-start": "the first light on the cloud",
  "blue-hour": "the middle of the blue hour",
  "civil-dusk": "civil dusk",
  "civil-dawn": "civil dawn",
  sunrise: "sunrise",
  "first-direct-light": "the first direct light",
  "hour-after-first-light": "an hour after the first light",
  "lowest-sun": "the sun's lowest point",
  "highest-sun": "the sun's highest point",
  "shutter-reached": "the wanted shutter time",
  start: "the start",
  end: "the end",
};

const item: Messages["item"] = {
  tripod: "tripod",
  "remote-release": "remote release",
  lamp: "lamp",
  "warm-layer": "warm layer",
  polarizer: "polarizer",
  "neutral-density": "neutral density",
  "graduated-filter": "graduated filter",
  "lens-cloth": "lens cloth",
  "spare-battery": "spare battery",
};

const phase: Readonly<Record<MoonPhaseName, string>> = {
  "new-moon": "new",
  "waxing-crescent": "waxing crescent",
  "first-quarter": "first quarter",
  "waxing-gibbous": "waxing gibbous",
  "full-moon": "full",
  "waning-gibbous": "waning gibbous",
  "last-quarter": "last quarter",
  "waning-crescent": "waning crescent",
};

const approach = {
  single: "one frame holds it",
  graduated: "a graduated filter brings it into one frame",
  bracket: "bracket it",
  "graduated-and-bracket": "bracket it through a graduated filter",
} as const;

const outlook = {
  unlikely: "Colour in the cloud is unlikely.",
  possible: "Colour in the cloud is possible.",
  likely: "Colour in the cloud is likely.",
} as const;

type Told<Code extends ForecastLine["code"]> = Extract<ForecastLine, { readonly code: Code }>;

/** Why the light goes there. */
function goesWhere({ cause, azimuthDeg }: LightEdge): string {
  if (cause === "facing") return "when what faces it turns into its own shade";
  return `${cause === "terrain" ? "behind higher ground" : "at the level horizon"} in the ${compassPoint(azimuthDeg)}`;
}

function comesWhere({ cause, azimuthDeg }: LightEdge): string {
  if (cause === "facing") return "when the sun comes round to the side that it faces";
  return `${cause === "terrain" ? "over higher ground" : "from the level horizon"} in the ${compassPoint(azimuthDeg)}`;
}

function againstAlmanac({ minutesInside, almanacInstant }: LightEdge, almanac: string, inside: string): string {
  if (minutesInside === null || almanacInstant === null) return "";
  const minutes = Math.round(minutesInside);
  if (Math.abs(minutes) < 1) return `, with the almanac's ${almanac}`;
  const side = minutes > 0 ? inside : inside === "before" ? "after" : "before";
  return `, ${minutesText(Math.abs(minutes))} ${side} the almanac's ${almanac} at ${clockTime(almanacInstant)}`;
}

function goldenHour({ minutes, start, end, sinceDayBefore, intoNextDay }: Told<"golden-light">): string {
  if (start === null || end === null) return "Golden hour: no direct light in it.";
  if (sinceDayBefore && intoNextDay) return "Golden hour: direct light in it all day.";
  const light = `Golden hour: ${minutesText(Math.round(minutes))} of direct light`;
  if (intoNextDay) return `${light} from ${clockTime(start)} to midnight, and on past it.`;
  if (sinceDayBefore) return `${light} from midnight to ${clockTime(end)}, and before it.`;
  return `${light}, from ${clockTime(start)} to ${clockTime(end)}.`;
}

/** English. */
export const en: Messages = {
  moment,
  shortMoment: {
    "last-direct-light": "last light",
    "first-direct-light": "first light",
    "lowest-sun": "lowest sun",
    "highest-sun": "highest sun",
    sunset: "sunset",
    sunrise: "sunrise",
    "blue-hour": "blue hour",
  },
  item,
  approach: {
    single: "one frame",
    graduated: "graduated filter",
    bracket: "bracket",
    "graduated-and-bracket": "graduated filter and bracket",
  },
  event: { sunrise: "Sunrise", sunset: "Sunset" },
  window: { "golden-hour": "Golden hour", "blue-hour": "Blue hour" },
  words: {
    title: (session, date, place) => `${session === "evening" ? "Evening" : "Morning"} of ${date}, ${place}`,
    lightOf: (date, place) => `Light of ${date}, ${place}`,
    directLight: "Direct light",
    directLightAllDay: "Direct light all day",
    noDirectLight: "No direct light",
    sunBehindTerrain: "The sun is up, behind higher ground",
    terrainUnread: (partly) =>
      `${partly ? "Some hills are" : "Hills are"} not counted, because elevation data cannot be read now: direct light may go earlier or come later.`,
    terrainTakes: (minutes) => `terrain takes ${minutes} min`,
    moments: "Moments",
    takeCare: "Take care",
    timesOf: (timeZone) => `Times of ${timeZone}`,
    skyOverGround: (stops) => `sky ${stops < 0 ? "−" : "+"}${Math.abs(stops).toFixed(1)} stops`,
    weather: (attribution, issuedTime, stale) => {
      const age = issuedTime === null ? "" : `, made at ${issuedTime}`;
      return `${attribution}${age}${stale ? "; the provider is away, so this is kept from before" : ""}.`;
    },
    calendar: (place) => `Light at ${place}`,
  },
  headline: {
    "light-goes": (edge) =>
      `Direct light goes at ${clockTime(edge.instant)} ${goesWhere(edge)}${againstAlmanac(edge, "sunset", "before")}.`,
    "light-comes": (edge) =>
      `Direct light comes at ${clockTime(edge.instant)} ${comesWhere(edge)}${againstAlmanac(edge, "sunrise", "after")}.`,
    "sun-stays-up": ({ instant }) => `The sun does not go: it is lowest at ${clockTime(instant)}.`,
    "no-direct-light": ({ almanacInstant }, session) =>
      `No direct light reaches what is photographed this ${session}; ${almanacInstant === null ? "the sun stays up behind what keeps it off" : `the almanac's ${session === "evening" ? "sunset" : "sunrise"} is at ${clockTime(almanacInstant)}`}.`,
    "sun-stays-down": ({ highest }, session) =>
      highest === null
        ? `The sun stays down this ${session}.`
        : `The sun stays down this ${session}: it is highest at ${clockTime(highest.instant)}, ${Math.round(-highest.trueAltitudeDeg)}° under the horizon.`,
  },
  line: {
    "golden-light": (told, session) => (told.comes ? goldenHour(told) : `No golden hour this ${session}.`),
    "sky-outlook": ({ outlook: kind, reasons }) => [outlook[kind], ...reasons].join(" "),
    "sky-not-known": ({ blueHour }) =>
      `Cloud is not known; reckoned with a clear sky.${blueHour === null ? "" : ` Blue hour from ${clockTime(blueHour.start)} to ${clockTime(blueHour.end)}.`}`,
    contrast: (told) => {
      const over = `${Math.abs(told.contrastStops).toFixed(1)} stops ${told.contrastStops < 0 ? "under" : "over"} the ground`;
      const frames = told.frames === 1 ? "" : `, ${told.frames} frames ${stopsApart(told.stepStops ?? 0)}`;
      const filter = told.graduated === null ? "" : ` (${told.graduated})`;
      return `At ${moment[told.moment]} (${clockTime(told.instant)}) the sky is ${over}: ${approach[told.approach]}${filter}${frames}.`;
    },
    moon: ({ illuminatedFraction, phaseName, azimuthDeg, altitudeDeg }) => {
      const where =
        altitudeDeg > 0 ? `${Math.round(altitudeDeg)}° up in the ${compassPoint(azimuthDeg)}` : "under the horizon";
      return `Moon ${phase[phaseName]}, ${Math.round(illuminatedFraction * 100)} % lit, ${where} in the middle of the session.`;
    },
    tide: ({ station, heightM, trend, moment: name, next }) => {
      const then = next === null ? "" : `, ${next.kind} water ${metres(next.heightM)} at ${clockTime(next.instant)}`;
      return `Tide at ${station}: ${metres(heightM)} and ${trend} at ${moment[name]}${then}; read the local tables.`;
    },
    "lens-fog": ({ fogRisk, dewPointC }) =>
      `Fog on the lens is ${fogRisk}: the dew point is ${withMinus(dewPointC, 0)} °C.`,
    "be-there": ({ arriveBy, stayUntil, items }) => {
      const bag = items.length === 0 ? "" : ` Take ${listOf(items.map((name) => item[name]))}.`;
      return `Be there by ${clockTime(arriveBy)}, stay until ${clockTime(stayUntil)}.${bag}`;
    },
  },
};
