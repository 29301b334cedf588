import { html, type TemplateResult } from "lit-html";
import { dateAfter, dayInWords } from "../words/place-time";

/** A day earlier, a day later, or any: as links and a form, so that each day has an address. */
export function dayChoice(
  date: string,
  hrefOf: (date: string) => string,
  hidden: Readonly<Record<string, string>>,
): TemplateResult {
  const before = dateAfter(date, -1);
  const after = dateAfter(date, 1);
  return html`<nav class="days" aria-label="Day">
    <a class="button" href=${hrefOf(before)} aria-label="The day before, ${dayInWords(before)}">←</a>
    <form method="get" action=${hrefOf(date).split("?")[0] ?? ""}>
      ${Object.entries(hidden).map(([name, value]) => html`<input type="hidden" name=${name} value=${value}>`)}
      <label><span class="unseen">Another day</span>
        <input type="date" name="date" .value=${date} min="1900-01-02" max="2099-12-30" required @change=${goTo}></label>
    </form>
    <a class="button" href=${hrefOf(after)} aria-label="The day after, ${dayInWords(after)}">→</a>
  </nav>`;
}

function goTo(event: Event): void {
  const input = event.currentTarget as HTMLInputElement;
  // a year is typed digit by digit: only a whole date goes
  if (input.validity.valid && input.value >= "1900-01-02") input.form?.requestSubmit();
}
