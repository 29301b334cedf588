import { html, nothing, type TemplateResult } from "lit-html";
import { decisiveMoment, type Evening } from "../evening/evening";
import { USUAL_FOCAL_LENGTH_MM, USUAL_KIT } from "../evening/kit";
import { framesGlyph } from "../pictures/frames-glyph";
import { stopsLadder } from "../pictures/stops-ladder";
import { approachInWords, momentInWords } from "../words/approach-words";
import { lightSentence, returnsInWords, whatInWords } from "../words/light-words";
import { clockOf } from "../words/place-time";

/** A full frame's width through the club's usual lens [deg]. */
export const USUAL_FIELD_DEG = (2 * Math.atan(36 / 2 / USUAL_FOCAL_LENGTH_MM) * 180) / Math.PI;
export const USUAL_LENS = `${USUAL_FOCAL_LENGTH_MM} mm`;

/** The time that matters most, and why. */
export function leavesView({ light, spot, verdict }: Evening, nowMs: number): TemplateResult {
  const { clock, why } = lightSentence(light, spot.part);
  const returns = returnsInWords(light, spot.part);
  return html`<div class="leaves">
    <p class="clock-line">${clock === null ? nothing : html`<span class="clock">${clock}</span> `}<span class="what">${whatInWords(light, spot.part, nowMs)}</span></p>
    ${verdict === undefined ? nothing : html`<p class="verdict">${verdict}</p>`}
    <p class="why">${why}${returns === null ? nothing : html` ${returns}`}</p>
  </div>`;
}

/** The contrast at the moment that matters, and how to take it. */
export function contrastView(evening: Evening): TemplateResult {
  const moment = decisiveMoment(evening);
  return html`<section>
    <h3>Contrast</h3>
    ${
      moment === undefined
        ? html`<p>No moment of this day asks for a plan of its own.</p>`
        : html`<p class="approach">${framesGlyph(moment)} <strong>${approachInWords(moment)}</strong></p>
          ${stopsLadder(moment, USUAL_KIT)}
          <p class="small">At ${clockOf(moment.instant)}, ${momentInWords(moment.name)}, f/${USUAL_KIT.aperture}, ISO ${USUAL_KIT.iso}. ${moment.approach.reasons[0]?.text}</p>`
    }
  </section>`;
}

/** What sky, moon and tide will do, with the credits that their sources ask for. */
export function skyView({ sky, tide, attributions }: Evening): TemplateResult {
  return html`<section>
    <h3>Sky</h3>
    ${[...sky, ...tide].map((text) => html`<p>${text}</p>`)}
    ${attributions.map((text) => html`<p class="small">${text}</p>`)}
  </section>`;
}

/** What goes into the bag, and why. */
export function packView({ pack }: Evening): TemplateResult {
  return html`<section>
    <h3>Pack</h3>
    ${pack.length === 0 ? html`<p>Nothing beyond the camera.</p>` : html`<ul class="pack">${pack.map(({ item, why }) => html`<li><strong>${item.replaceAll("-", " ")}</strong>: ${why}</li>`)}</ul>`}
  </section>`;
}
