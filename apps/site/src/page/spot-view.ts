import { html, nothing, type TemplateResult } from "lit-html";
import { queryOfSpot, type Spot } from "../club";
import type { Evening } from "../evening/evening";
import type { Ridge } from "../evening/ridge";
import type { SunStep } from "../evening/sun-path";
import { ridgePicture } from "../pictures/ridge-picture";
import { dayInWords } from "../words/place-time";
import { cautionList } from "./cautions";
import { dayChoice } from "./day-choice";
import { leavesView, packView, skyView, USUAL_FIELD_DEG, USUAL_LENS } from "./evening-parts";
import { failureInWords } from "./failure";
import { momentsTable } from "./moments-table";
import { originLine } from "./origin-line";

/** What the page of one spot knows so far. */
export interface SpotFacts {
  readonly spot: Spot;
  readonly date: string;
  readonly evening?: Evening;
  readonly ridge?: Ridge;
  readonly path?: readonly SunStep[];
  /** Where the reader turns the frame, once there is one. */
  readonly bench?: HTMLElement;
  readonly failure?: unknown;
}

/** One spot: its light, the frame that the reader turns, the moments of the session, and what to mind. */
export function spotView(
  { spot, date, evening, ridge, path, bench, failure }: SpotFacts,
  widthPx: number,
  nowMs: number,
): TemplateResult {
  const hidden = Object.fromEntries([...new URLSearchParams(queryOfSpot(spot))]);
  return html`
    <div class="title">
      <div>
        <h1>${spot.name}</h1>
        <p class="day">${dayInWords(date)}</p>
      </div>
      ${dayChoice(date, (day) => `spot.html?${queryOfSpot(spot, day)}`, hidden)}
    </div>
    ${spot.photographs === undefined ? nothing : html`<p class="lede">${spot.photographs}</p>`}
    ${evening === undefined ? nothing : originLine([evening.origin], evening.timeZone, nowMs)}
    ${failure === undefined ? nothing : html`<p class="notice" role="alert">${failureInWords(failure)}</p>`}
    ${evening === undefined ? (failure === undefined ? html`<p class="waiting">Reading the ridge …</p>` : nothing) : leavesView(evening, nowMs)}
    ${ridge !== undefined && !ridge.terrain ? html`<p class="notice">The service has no elevation data for this place: the horizon is taken as level, and a hill in the sun’s way is not reckoned with.</p>` : nothing}
    <section aria-labelledby="frame-heading" class="frame-section">
      <h2 id="frame-heading">The frame</h2>
      ${bench ?? html`<p class="waiting">${frameWaits(path, failure)}</p>`}
    </section>
    ${
      evening === undefined
        ? nothing
        : html`${momentsTable(evening)}
          <section aria-labelledby="way" class="way-section"><h2 id="way">The sun’s way</h2>
            <figure class="ridge">${ridge === undefined || path === undefined ? html`<div class="ridge-room"></div>` : ridgePicture({ evening, ridge, path, fieldDeg: USUAL_FIELD_DEG, lens: USUAL_LENS, widthPx })}</figure>
          </section>
          <div class="facts">${skyView(evening)}${packView(evening)}</div>
          ${cautionList(evening.cautions)}
          <details class="assumed"><summary>What this rests on</summary>
            <ul>${evening.assumptions.map(({ field, value, why }) => html`<li><strong>${field}</strong>: ${String(value)}, ${why}</li>`)}</ul>
          </details>`
    }
  `;
}

function frameWaits(path: SpotFacts["path"], failure: unknown): string {
  if (failure !== undefined) return "Without the ridge there is no frame to turn.";
  return path === undefined ? "Setting up the camera …" : "There is no time of this day to turn the frame at.";
}
