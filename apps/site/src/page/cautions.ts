import type { Caution } from "@fieldstop/sdk";
import { html, type TemplateResult } from "lit-html";

// Whatever the place: the others come with the answer, where they belong to it
const ALWAYS: readonly Caution[] = [
  {
    code: "sun-through-optics",
    text: "Never look at the sun through a lens or an optical finder; photographic filters are not solar filters.",
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
