import type { OutingMoment } from "@fieldstop/sdk";
import { html, nothing, type TemplateResult } from "lit-html";
import type { Evening } from "../evening/evening";
import { framesGlyph } from "../pictures/frames-glyph";
import { approachInWords, momentInWords, stops } from "../words/approach-words";
import { clockOf } from "../words/place-time";

/** The moments of a session, each with its light and what it asks of the camera. */
export function momentsTable({ moments }: Evening): TemplateResult | typeof nothing {
  if (moments.length === 0) return nothing;
  return html`<section class="moments" aria-labelledby="moments">
    <h2 id="moments">Moment by moment</h2>
    <div class="scroll" role="region" aria-label="Table of the moments" tabindex="0">
      <table>
        <thead><tr><th scope="col">time</th><th scope="col">moment</th><th scope="col">sun</th><th scope="col">sky over ground</th><th scope="col">how to take it</th><th scope="col">exposure</th></tr></thead>
        <tbody>${moments.map(row)}</tbody>
      </table>
    </div>
  </section>`;
}

function row(moment: OutingMoment): TemplateResult {
  const { name, instant, sun, directLight, contrastStops, exposure, bracket } = moment;
  const shutters = bracket === undefined ? [exposure.shutter.nominal] : bracket.frames.map(({ nominal }) => nominal);
  return html`<tr>
    <th scope="row" class="when">${clockOf(instant)}</th>
    <td>${momentInWords(name)}</td>
    <td>${sun.altitudeDeg.toFixed(1)}°${directLight ? ", shining" : ""}</td>
    <td>${stops(contrastStops)}</td>
    <td><span class="approach-cell">${framesGlyph(moment)} ${approachInWords(moment)}</span></td>
    <td>${exposure.aperture.nominal}, ${shutters.join(", ")}</td>
  </tr>`;
}
