import { BRACKET } from "../operations/exposure/exposure.examples";
import { OUTING } from "../operations/light/light.examples";
import type { Example } from "./example";

export const LANDING_EXAMPLES: readonly Example[] = [
  {
    id: "light",
    title: "When does the sun leave the strand, and what takes it?",
    about: "The events and windows of a day, and the intervals of direct light behind the real ridge.",
    path: "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20&timeZone=Europe%2FLondon",
  },
  {
    id: "evening",
    title: "One evening, with what is in the bag",
    about:
      "When to arrive, until when to stay, and for each moment the contrast, the filter or the bracket, and the exposure.",
    path: "/v1/outings/plan",
    body: OUTING["evening-on-the-strand"].value,
  },
  {
    id: "bracket",
    title: "Which frames hold shadows at EV 3 and a sky at EV 16?",
    about: "Frames, their steps and their shutter times, and how long the set takes.",
    path: "/v1/brackets/plan",
    body: BRACKET["thirteen-stops"].value,
  },
];
