import type { OutingMoment } from "@fieldstop/sdk";

/** How to take it, in a few words: Bracket of 3, 2 stops apart. */
export function approachInWords({
  approach,
  bracket,
  graduated,
}: Pick<OutingMoment, "approach" | "bracket" | "graduated">): string {
  const frames = bracket === undefined ? "" : `${bracket.count} frames, ${stops(bracket.stepStops)} apart`;
  const filter = graduated === undefined ? "" : `${graduated.transition} graduated filter, ${stops(graduated.stops)}`;
  switch (approach.kind) {
    case "single":
      return "One frame is enough";
    case "single-or-bracket":
      return bracket === undefined ? "One frame may do" : `One frame may do; to be safe ${frames}`;
    case "beyond-one-set":
      return frames === "" ? "More than one frame holds" : `More than one set holds: ${frames}, the shadows go`;
    case "graduated":
      return capital(filter);
    case "bracket":
      return `Bracket: ${frames}`;
    case "graduated-and-bracket":
      return `${capital(filter)}, and a bracket: ${frames}`;
  }
}

/** The number of frames that an approach takes. */
export function frameCount({ bracket }: Pick<OutingMoment, "bracket">): number {
  return bracket?.count ?? 1;
}

const MOMENTS: Readonly<Record<OutingMoment["name"], string>> = {
  "hour-before-last-light": "an hour before it goes",
  "last-direct-light": "last direct light",
  sunset: "almanac’s sunset",
  "cloud-lit-end": "cloud loses the sun",
  "cloud-lit-start": "cloud catches the sun",
  "blue-hour": "middle of the blue hour",
  "civil-dusk": "civil dusk",
  "civil-dawn": "civil dawn",
  sunrise: "almanac’s sunrise",
  "first-direct-light": "first direct light",
  "hour-after-first-light": "an hour after it came",
  "nautical-dusk": "nautical dusk",
  "nautical-dawn": "nautical dawn",
  "astronomical-dusk": "twilight ends",
  "astronomical-dawn": "twilight begins",
  "low-sun-start": "the sun gets low",
  "low-sun-end": "the sun climbs again",
  moonrise: "moonrise",
  "moon-highest": "moon highest",
  moonset: "moonset",
  "lowest-sun": "lowest sun",
  "highest-sun": "highest sun",
  "shutter-reached": "long exposure within reach",
  start: "now",
  end: "then",
};

export function momentInWords(name: OutingMoment["name"]): string {
  return MOMENTS[name];
}

export function stops(value: number, digits = 1): string {
  const text = Number.isInteger(value) ? String(value) : value.toFixed(digits);
  return `${text} ${Number(text) === 1 ? "stop" : "stops"}`;
}

function capital(text: string): string {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
