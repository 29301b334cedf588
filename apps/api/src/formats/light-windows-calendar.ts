import type { LightWindows } from "@fieldstop/core";
import { ALMANAC_REVISED_MS, type CalendarEntry, calendar } from "./calendar";
import type { Messages } from "./messages/messages";
import { placeName } from "./place-name";
import { stableId } from "./stable-id";

const SHOWN = ["golden-hour", "blue-hour"] as const;
const isShown = (kind: string): kind is (typeof SHOWN)[number] => (SHOWN as readonly string[]).includes(kind);

/** The light of some days at one place as a calendar: direct light, golden and blue hours. */
export function lightWindowsCalendar(days: readonly LightWindows[], messages: Messages): string {
  const { words } = messages;
  const { place } = days[0] as LightWindows;
  const name = placeName(place);
  const entries = days.flatMap((day) => entriesOf(day, messages));
  return calendar(words.calendar(name), { name, latitude: place.latitude, longitude: place.longitude }, entries);
}

function entriesOf(day: LightWindows, { words, window, caution }: Messages): CalendarEntry[] {
  const { place, date, timeZone, windows, directLight, cautions } = day;
  const description = [words.timesOf(timeZone), ...cautions.map(({ code }) => caution[code])].join("\n");
  const entry = (what: string, summary: string, start: string, end: string): CalendarEntry => ({
    id: stableId(place, date, what),
    start,
    end,
    summary,
    description,
    revisedMs: ALMANAC_REVISED_MS,
  });
  return [
    ...directLight.intervals.map(({ start, end }, i) => entry(`direct-light ${i}`, words.directLight, start, end)),
    ...windows.flatMap(({ kind, part, start, end }, i) =>
      isShown(kind) ? [entry(`${kind} ${part} ${countBefore(windows, i)}`, window[kind], start, end)] : [],
    ),
  ];
}

/** How many of its kind come before it in its part of the day: near the poles there may be two. */
function countBefore(windows: LightWindows["windows"], index: number): number {
  const { kind, part } = windows[index] as LightWindows["windows"][number];
  return windows.slice(0, index).filter((other) => other.kind === kind && other.part === part).length;
}
