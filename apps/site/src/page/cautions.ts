import type { Caution } from "@fieldstop/sdk";
import { html, type TemplateResult } from "lit-html";

// What an evening on a shore or a hill always asks for, whether or not the answer names it
const ALWAYS: readonly Caution[] = [
  {
    code: "sun-through-optics",
    text: "Never look at the sun through a lens or an optical finder; photographic filters are not solar filters.",
  },
  {
    code: "tide-and-swell",
    text: "Tides, swell and weather can cut off a shore: read the local tide tables and warnings, and leave time to get back.",
  },
  {
    code: "cliffs-and-mud",
    text: "Edges crumble and mud flats can hold you: keep to signed paths and follow the local signs and wardens.",
  },
  {
    code: "dark-paths",
    text: "It will be dark on the way back: carry a lamp, know the path, and tell someone where you are.",
  },
];

/** What can hurt, each once. */
export function cautionList(cautions: readonly Caution[]): TemplateResult {
  const all = new Map([...ALWAYS, ...cautions].map((one) => [one.code, one.text]));
  return html`<section class="cautions" aria-labelledby="cautions">
    <h2 id="cautions">Take care</h2>
    <ul>
      ${[...all.values()].map((text) => html`<li>${text}</li>`)}
    </ul>
    <p>Local tide tables, signs, wardens and licensed guides have the last word over anything on this page.</p>
  </section>`;
}
