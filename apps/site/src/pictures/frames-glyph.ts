import type { OutingMoment } from "@fieldstop/sdk";
import { html, svg, type TemplateResult } from "lit-html";
import { frameCount } from "../words/approach-words";

/** An approach at a glance: as many frames as it takes, their tops darkened where a graduated filter is on. It stands beside words and is silent. */
export function framesGlyph(moment: Pick<OutingMoment, "approach" | "bracket">): TemplateResult {
  const count = frameCount(moment);
  const graduated = moment.approach.kind.startsWith("graduated");
  const step = 7;
  const width = 24 + (count - 1) * step;
  return html`<svg class="glyph" viewBox="0 0 ${width + 2} 20" width=${width + 2} height="20" aria-hidden="true">
    ${Array.from(
      { length: count },
      (_, i) =>
        svg`<g transform="translate(${1 + i * step} 1)"><rect class="back" width="24" height="18" rx="1.5"></rect>${graduated ? svg`<rect class="dark" width="24" height="8" rx="1.5"></rect>` : ""}<rect class="line" width="24" height="18" rx="1.5"></rect></g>`,
    )}
  </svg>`;
}
