import type { AccessEntry } from "@fieldstop/api/middleware/access-log";
import { accessLine } from "@fieldstop/api/server/log";
import { pino } from "pino";
import { describe, expect, it } from "vitest";

/** What the log itself would write. */
function written(entry: AccessEntry): string {
  const lines: string[] = [];
  pino({ base: { pid: 7 } }, { write: (line: string) => lines.push(line) }).info(entry);
  return lines.join("");
}

const TRACE = "0af7651916cd43dd8448eb211c80319c";
const ENTRY: AccessEntry = { requestId: "club.1", method: "GET", route: "/v1/sun", status: 200, ms: 0.4 };

describe("the line of a request", () => {
  it.each([
    ["plain", ENTRY],
    [
      "in a trace, near a place",
      {
        requestId: "club.1",
        traceId: TRACE,
        method: "GET",
        route: "/v1/sun",
        status: 304,
        ms: 0,
        near: [56.6, -9.4] as const,
      },
    ],
    ["at the equator", { ...ENTRY, near: [0, 0] as const, ms: 12 }],
    ["by a method that someone made up", { ...ENTRY, method: 'A"\\\u2028', route: "/v1/reference/:table" }],
  ])("is that of the log: %s", (_, entry) => {
    const line = written(entry);
    const { time } = JSON.parse(line) as { time: number };
    expect(accessLine(entry, 7, time)).toBe(line);
  });
});
