import { createHistogram, type RecordableHistogram } from "node:perf_hooks";
import { differsFromProblem } from "./contract";
import type { Reply } from "./crowd";

/** What came back while one thing was tried. */
export class Outcomes {
  readonly answered: RecordableHistogram = createHistogram();
  readonly shed: RecordableHistogram = createHistogram();
  readonly bySecond: { answered: number; shed: number; worstMs: number }[] = [];
  readonly faults: string[] = [];
  readonly #startMs = performance.now();
  readonly #calm: ReadonlyMap<string, Buffer>;

  constructor(calm: ReadonlyMap<string, Buffer>) {
    this.#calm = calm;
  }

  take({ shot: { name }, status, head, body, tookMs }: Reply): void {
    const second = Math.floor((performance.now() - this.#startMs) / 1000);
    this.bySecond[second] ??= { answered: 0, shed: 0, worstMs: 0 };
    const row = this.bySecond[second];
    const micros = Math.max(1, Math.round(1000 * tookMs));
    if (status === 200) {
      row.answered++;
      row.worstMs = Math.max(row.worstMs, tookMs);
      this.answered.record(micros);
      if (!this.#calm.get(name)?.equals(body)) this.faults.push(`another answer to ${name}`);
    } else if (status === 429 || status === 503) {
      row.shed++;
      this.shed.record(micros);
      const wrong = wrongRefusal(status, head, body);
      if (wrong !== undefined) this.faults.push(wrong);
    } else this.faults.push(`${name} -> ${status}: ${body.toString().slice(0, 200)}`);
  }
}

/** Refusals are alike, but for the path. */
const goodRefusals = new Set<string>();

function wrongRefusal(status: number, head: string, body: Buffer): string | undefined {
  if (!/\r\nretry-after: [1-9]\d*(\r\n|$)/i.test(head)) return `${status} without Retry-After`;
  if (!/\r\ncontent-type: application\/problem\+json(\r\n|$)/i.test(head)) return `${status} that is no problem`;
  const text = body.toString();
  if (goodRefusals.has(text)) return undefined;
  const difference = differsFromProblem(status, text);
  if (difference === undefined) goodRefusals.add(text);
  return difference;
}
