import { html, nothing, type TemplateResult } from "lit-html";
import { queryOfSpot, type Spot } from "../club";
import type { ComingDay } from "../evening/coming-days";
import type { Evening } from "../evening/evening";
import type { Ridge } from "../evening/ridge";
import type { SunStep } from "../evening/sun-path";
import { ridgePicture } from "../pictures/ridge-picture";
import { dayInWords } from "../words/place-time";
import { cautionList } from "./cautions";
import { comingView } from "./coming-view";
import { dayChoice } from "./day-choice";
import { contrastView, leavesView, packView, skyView, USUAL_FIELD_DEG, USUAL_LENS } from "./evening-parts";
import { failureInWords } from "./failure";
import { originLine } from "./origin-line";

/** What is known of a spot so far. */
export interface SpotTonight {
  readonly spot: Spot;
  readonly evening?: Evening;
  readonly ridge?: Ridge;
  readonly path?: readonly SunStep[];
  readonly failure?: unknown;
}

export interface Tonight {
  readonly date: string;
  readonly today: string;
  readonly spots: readonly SpotTonight[];
  readonly coming: readonly ComingDay[];
  readonly widthPx: number;
  readonly nowMs: number;
}

export function tonightView(tonight: Tonight): TemplateResult {
  const { date, today, spots, coming, nowMs } = tonight;
  const evenings = spots.flatMap(({ evening }) => (evening === undefined ? [] : [evening]));
  return html`
    <div class="title">
      <div>
        <h1>${date === today ? "Tonight’s light" : "The evening’s light"}</h1>
        <p class="day">${dayInWords(date)}</p>
      </div>
      ${dayChoice(date, (day) => `index.html?date=${day}`, {})}
    </div>
    ${
      evenings.length === 0
        ? html`<p class="origin-room"></p>`
        : originLine(
            evenings.map(({ origin }) => origin),
            evenings[0]?.timeZone ?? "UTC",
            nowMs,
          )
    }
    ${spots.map((one) => spotView(one, tonight))}
    ${comingView(
      spots.map(({ spot }) => spot),
      coming,
    )}
    ${evenings.length === 0 ? nothing : cautionList(evenings.flatMap(({ cautions }) => cautions))}
  `;
}

function spotView(
  { spot, evening, ridge, path, failure }: SpotTonight,
  { date, widthPx, nowMs }: Tonight,
): TemplateResult {
  const id = `spot-${spot.id}`;
  const href = `spot.html?${queryOfSpot(spot, date)}`;
  return html`<article class="spot" aria-labelledby=${id}>
    <h2 id=${id}><a href=${href}>${spot.name}</a></h2>
    ${failure === undefined ? known({ spot, evening, ridge, path }, widthPx, nowMs) : html`<p class="notice">${failureInWords(failure)}</p>`}
    <a class="button to-frame" href=${href}>Turn the frame at ${spot.name}</a>
  </article>`;
}

/** The light, the ridge and the plan, each with its room kept until it is there. */
function known({ evening, ridge, path }: SpotTonight, widthPx: number, nowMs: number): TemplateResult {
  const drawn = evening !== undefined && ridge !== undefined && path !== undefined;
  return html`
    ${evening === undefined ? html`<p class="waiting">Reading the ridge …</p>` : leavesView(evening, nowMs)}
    <figure class="ridge">
      ${drawn ? ridgePicture({ evening, ridge, path, fieldDeg: USUAL_FIELD_DEG, lens: USUAL_LENS, widthPx }) : html`<div class="ridge-room"></div>`}
    </figure>
    ${
      evening === undefined || ridge === undefined
        ? html`<div class="facts-room"></div>`
        : html`<div class="facts">${contrastView(evening)}${skyView(evening)}${packView(evening)}</div>`
    }
  `;
}
