import { html, type TemplateResult } from "lit-html";
import type { Origin } from "../evening/evening";
import { ageInWords } from "../words/place-time";

/** Where the facts of a page came from, and how old they are. */
export function originLine(origins: readonly Origin[], nowMs: number): TemplateResult {
  const kept = origins.flatMap((origin) => (origin.kind === "kept" ? [origin.at] : []));
  const oldest = kept.sort((a, b) => a.getTime() - b.getTime())[0];
  if (oldest !== undefined) {
    return html`<p class="origin stale" role="status">The service cannot be reached. This forecast was kept on your device and is ${ageInWords(oldest, nowMs)}; the light still holds, the weather may not.</p>`;
  }
  if (origins.some(({ kind }) => kind === "here")) {
    return html`<p class="origin stale" role="status">Reckoned on your device from the ridge that it keeps, under a clear sky: without weather or tide.</p>`;
  }
  return html`<p class="origin" role="status">From the service, just now. Times are those of the place.</p>`;
}
