import { html, type TemplateResult } from "lit-html";
import type { Origin } from "../evening/evening";
import { ageInWords, clockIn } from "../words/place-time";

/** Where the facts of a page came from, and how old they are; with the clock of the place, since a page is printed, too. */
export function originLine(origins: readonly Origin[], timeZone: string, nowMs: number): TemplateResult {
  const oldest = oldestOf(origins, "kept");
  if (oldest !== undefined) {
    return html`<p class="origin stale" role="status">The service cannot be reached. This forecast was kept on your device ${clockIn(timeZone, oldest.getTime())} and is ${ageInWords(oldest, nowMs)}; the light still holds, the weather may not.</p>`;
  }
  if (origins.some(({ kind }) => kind === "here")) {
    return html`<p class="origin stale" role="status">Reckoned on your device from the ridge that it keeps, under a clear sky: without weather or tide.</p>`;
  }
  const at = oldestOf(origins, "service") ?? new Date(nowMs);
  return html`<p class="origin" role="status">From the service, ${clockIn(timeZone, at.getTime())}. All times are those of the place.</p>`;
}

function oldestOf(origins: readonly Origin[], kind: "kept" | "service"): Date | undefined {
  const times = origins.flatMap((origin) => (origin.kind === kind ? [origin.at] : []));
  return times.sort((a, b) => a.getTime() - b.getTime())[0];
}
