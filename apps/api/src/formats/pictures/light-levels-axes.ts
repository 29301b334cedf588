import { zoneClock } from "@fieldstop/core";
import { textWidth } from "./labels";
import { type SvgNode, svg } from "./svg";

const MINUTE_MS = 60_000;
/** Steps that divide an hour or a day [min]. */
const STEPS_MINUTES = [1, 2, 5, 10, 15, 30, 60, 120, 180, 240, 360, 720, 1440];

/** Level lines at whole values of EV100, named at the left. */
export function evRules(
  y: (ev100: number) => number,
  [lowest, highest]: readonly [number, number],
  left: number,
  right: number,
  size: number,
): SvgNode[] {
  const pxPerStop = y(0) - y(1);
  const step = [1, 2, 5, 10].find((stops) => stops * pxPerStop >= size * 1.8) ?? 10;
  const first = Math.ceil(lowest / step);
  return Array.from({ length: Math.floor(highest / step) - first + 1 }, (_, i) => (first + i) * step).flatMap((ev) => {
    const text = { class: "faint ev", x: left - size * 0.4, y: y(ev) + size * 0.35, "font-size": size * 0.9 };
    return [
      svg("line", { class: "rule", x1: left, x2: right, y1: y(ev), y2: y(ev) }),
      svg("text", { ...text, "text-anchor": "end" }, String(ev).replace("-", "−")),
    ];
  });
}

/** Local times along the foot, at round hours or minutes of the place's own clock, whatever it does at a change of clocks. */
export function timeTicks(
  x: (instantMs: number) => number,
  [startMs, endMs]: readonly [number, number],
  timeZone: string,
  [foot, size, width]: readonly [number, number, number],
): SvgNode[] {
  const clock = zoneClock(timeZone);
  const room = textWidth("00:00", size) + size * 1.4;
  const pxPerMinute = x(startMs + MINUTE_MS) - x(startMs);
  const step = STEPS_MINUTES.find((minutes) => minutes * pxPerMinute >= room) ?? 1440;
  const ticks: SvgNode[] = [];
  let taken = Number.NEGATIVE_INFINITY;
  for (let ms = Math.ceil(startMs / MINUTE_MS) * MINUTE_MS; ms <= endMs; ms += MINUTE_MS) {
    const local = clock.format(ms).slice(11, 16);
    const at = x(ms);
    if ((Number(local.slice(0, 2)) * 60 + Number(local.slice(3))) % step !== 0 || at - taken < room) continue;
    taken = at;
    const half = textWidth("00:00", size) / 2;
    const middle = Math.max(half + 2, Math.min(width - half - 2, at));
    ticks.push(
      svg("line", { class: "rule", x1: at, x2: at, y1: foot, y2: foot + size * 0.4 }),
      svg("text", { x: middle, y: foot + size * 1.5, "font-size": size, "text-anchor": "middle" }, local),
    );
  }
  return ticks;
}
