import { html, nothing, type TemplateResult } from "lit-html";
import { queryOfSpot, type Spot } from "../club";
import type { ComingDay, ComingLight } from "../evening/coming-days";
import { framesGlyph } from "../pictures/frames-glyph";
import { approachInWords } from "../words/approach-words";
import { decisiveInterval, lightSentence } from "../words/light-words";
import { dayInWords, msOf } from "../words/place-time";

/** The coming days at each spot, side by side: when direct light goes, what the ridge takes of it, and the frames it asks for. */
export function comingView(spots: readonly Spot[], days: readonly ComingDay[]): TemplateResult | typeof nothing {
  if (days.length === 0) return nothing;
  return html`<section class="coming" aria-labelledby="coming">
    <h2 id="coming">The coming evenings</h2>
    <p class="small">When direct light goes, and the minutes that the ridge takes of it, under a clear sky. The longest light of each evening is in bold.</p>
    <div class="scroll" role="region" aria-label="Table of the coming evenings" tabindex="0">
      <table>
        <thead><tr><th scope="col">evening</th>${spots.map(({ name }) => html`<th scope="col">${name}</th>`)}</tr></thead>
        <tbody>
          ${days.map(
            (day) => html`<tr>
              <th scope="row"><a href="index.html?date=${day.date}">${dayInWords(day.date, "short")}</a></th>
              ${day.spots.map((light, i) => cell(light, spots[i] as Spot, day.date, isLongest(light, day)))}
            </tr>`,
          )}
        </tbody>
      </table>
    </div>
  </section>`;
}

function cell({ light, moment }: ComingLight, spot: Spot, date: string, longest: boolean): TemplateResult {
  const { clock, what } = lightSentence(light, spot.part);
  const interval = decisiveInterval(light, spot.part);
  const lost = lostMinutes({ light });
  const why =
    interval?.endCause === "terrain" && lost > 0
      ? `ridge, ${lost} min early`
      : interval?.endCause === "horizon"
        ? "open horizon"
        : "";
  return html`<td class=${longest ? "longest" : ""}>
    <a href="spot.html?${queryOfSpot(spot, date)}"><span class="coming-clock">${clock ?? what}</span></a>
    ${moment === undefined ? nothing : html`<span class="coming-frames">${framesGlyph(moment)}<span class="unseen">${approachInWords(moment)}</span></span>`}
    <span class="small coming-why">${why}</span>
  </td>`;
}

function lostMinutes({ light }: Pick<ComingLight, "light">): number {
  const sunset = light.events.find(({ name }) => name === "sunset");
  const last = light.directLight.lastInstant;
  return sunset === undefined || last === null ? 0 : Math.round((msOf(sunset.instant) - msOf(last)) / 60_000);
}

function isLongest({ light }: ComingLight, { spots }: ComingDay): boolean {
  const last = ({ light: one }: ComingLight): number =>
    one.directLight.lastInstant === null ? 0 : msOf(one.directLight.lastInstant);
  const most = Math.max(...spots.map(last));
  return most > 0 && last({ light, moment: undefined }) === most;
}
