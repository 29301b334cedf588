import type { ForecastLine, LightEdge, MoonPhaseName } from "@fieldstop/core";
import {
  clockTime,
  compassPoint,
  listOf,
  metres,
  minutesText,
  stopsApart,
  timeOn,
  weekday,
  withMinus,
} from "./figures";
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
  "nautical-dusk": "nautical dusk",
  "nautical-dawn": "nautical dawn",
  "astronomical-dusk": "the end of twilight",
  "astronomical-dawn": "the beginning of twilight",
  sunrise: "sunrise",
  "first-direct-light": "the first direct light",
  "hour-after-first-light": "an hour after the first light",
  "low-sun-start": "the beginning of the low sun",
  "low-sun-end": "the end of the low sun",
  moonrise: "moonrise",
  "moon-highest": "the moon's highest point",
  moonset: "moonset",
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
  water: "water",
  "lens-hood": "lens hood",
  polarizer: "polarizer",
  "neutral-density": "neutral density",
  "graduated-filter": "graduated filter",
  "lens-cloth": "lens cloth",
  "spare-battery": "spare battery",
};

const caution: Messages["caution"] = {
  "sun-through-optics": "Never look at the sun through a lens.",
  "tide-and-swell": "Read the local tide tables and leave time to get back.",
  "dark-paths": "It is dark on the way: carry a lamp.",
  cliffs: "Cliffs near here: keep back from the edge.",
  "steep-ground": "Steep ground near here: keep to the path.",
  "mud-flats": "Tidal mud and soft sand: keep to firm ground.",
  wildlife: "Keep away from nesting animals; wardens come first.",
  "thin-air": "The air is thin up here.",
  "cold-and-ice": "It is freezing: mind ice.",
  heat: "It is hot: carry water.",
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
  single: "one exposure is enough",
  "single-or-bracket": "one exposure may do, take a bracket to be safe",
  graduated: "use the graduated filter",
  bracket: "bracket it",
  "graduated-and-bracket": "use the graduated filter and bracket",
  "beyond-one-set": "more than the camera can hold in one set",
} as const;

const outlook = {
  unlikely: "Colour in the cloud is unlikely.",
  possible: "Colour in the cloud is possible.",
  likely: "Colour in the cloud is likely.",
} as const;

/** "the sky is 4 stops brighter than the ground", to the half stop that light is known to. */
function skyOverGround(stops: number): string {
  const halves = Math.round(Math.abs(stops) * 2) / 2;
  if (halves === 0) return "the sky is as bright as the ground";
  const count = halves === 0.5 ? "half a stop" : halves === 1 ? "1 stop" : `${halves} stops`;
  return `the sky is ${count} ${stops > 0 ? "brighter" : "darker"} than the ground`;
}

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

function goldenHour({ minutes, start, end, date }: Told<"golden-light">): string {
  if (start === null || end === null) return "No direct light of the low sun.";
  return `Low direct light for ${minutesText(Math.round(minutes))}, from ${timeOn(start, date)} to ${timeOn(end, date)}.`;
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
  caution,
  approach: {
    single: "one frame",
    "single-or-bracket": "one frame or a bracket",
    "beyond-one-set": "beyond one set",
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
    "sun-stays-up": ({ instant, directLight }) =>
      `Midnight sun: lowest at ${clockTime(instant)} on ${weekday(instant)}${directLight ? "" : ", behind higher ground"}.`,
    "no-direct-light": ({ almanacInstant }, session) =>
      `No direct light reaches what is photographed this ${session}; ${almanacInstant === null ? "the sun stays up behind what keeps it off" : `the almanac's ${session === "evening" ? "sunset" : "sunrise"} is at ${clockTime(almanacInstant)}`}.`,
    "sun-stays-down": ({ highest }, session) =>
      highest === null
        ? `The sun stays down this ${session}.`
        : `The sun does not rise: it is highest at ${clockTime(highest.instant)}, ${Math.round(-highest.trueAltitudeDeg)}° under the horizon.`,
  },
  line: {
    verdict: ({ verdict }) => verdict.text,
    "golden-light": goldenHour,
    "sky-outlook": ({ outlook: kind, reasons }) => [outlook[kind], ...reasons].join(" "),
    "sky-not-known": ({ blueHour, date }) =>
      `Cloud is not known; a clear sky is assumed.${blueHour === null ? "" : ` Blue hour from ${timeOn(blueHour.start, date)} to ${timeOn(blueHour.end, date)}.`}`,
    contrast: (told) => {
      const over = skyOverGround(told.contrastStops);
      const frames = told.frames === 1 ? "" : `, ${told.frames} frames ${stopsApart(told.stepStops ?? 0)}`;
      const filter = told.graduated === null ? "" : ` (${told.graduated})`;
      return `At ${moment[told.moment]} (${clockTime(told.instant)}) ${over}: ${approach[told.approach]}${filter}${frames}.`;
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
      return `Start walking in by ${clockTime(arriveBy)}, stay until ${clockTime(stayUntil)}.${bag}`;
    },
  },
};
