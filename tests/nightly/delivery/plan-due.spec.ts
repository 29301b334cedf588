import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { planDue, planRequested } from "@fieldstop/nightly/delivery/plan-due";
import { takeUp } from "@fieldstop/nightly/delivery/take-up";
import type { Ledger } from "@fieldstop/nightly/ledger/ledger";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { place } from "../support/place";
import { type TestWork, testWork } from "../support/work";

let folder: string;
let ledger: Ledger;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-plan-"));
  ledger = new LmdbLedger(folder);
});
afterEach(async () => {
  await ledger.close();
  await rm(folder, { recursive: true });
});

const never = new AbortController().signal;

/** Looks for what is due, as a runner does, and takes it up. Returns the keys that are new. */
async function look(work: TestWork, instant: string): Promise<string[]> {
  work.clockMs = Date.parse(instant);
  const { orders, dealtWith } = await planDue(work);
  const opened: string[] = [];
  await takeUp(work, orders, never, (entries) => {
    opened.push(...entries.filter(({ state }) => state === "pending").map(({ key }) => key));
  });
  await dealtWith();
  return opened;
}

const missed = async (): Promise<string[]> => (await ledger.list("missed")).map(({ key }) => key).sort();

describe("looking for what is due", () => {
  it("takes each night up once, at its hour", async () => {
    const work = await testWork(ledger);
    expect(await look(work, "2027-03-20T14:59:00Z")).toEqual([]);
    expect(await look(work, "2027-03-20T15:00:00Z")).toEqual(["strand/2027-03-20/hook"]);
    expect(await look(work, "2027-03-20T15:01:00Z")).toEqual([]);
    expect(await look(work, "2027-03-21T15:00:00Z")).toEqual(["strand/2027-03-21/hook"]);
    expect(work.requested).toBe(2);
  });

  it("takes a night up once though its hour comes twice, and though the machine's clock goes back", async () => {
    const work = await testWork(ledger, { places: [place({ postAt: "01:30" })] });
    expect(await look(work, "2027-10-31T00:30:00Z")).toEqual(["strand/2027-10-31/hook"]);
    expect(await look(work, "2027-10-31T01:30:00Z")).toEqual([]);
    expect(await look(work, "2027-10-30T23:30:00Z")).toEqual([]);
    expect(await look(work, "2027-10-31T00:30:00Z")).toEqual([]);
  });

  it("catches up while the night lies ahead, and records as missed what is over", async () => {
    const work = await testWork(ledger);
    await look(work, "2027-03-19T15:00:00Z");
    // nobody was there for three days
    expect(await look(work, "2027-03-22T19:00:00Z")).toEqual(["strand/2027-03-22/hook"]);
    expect(await missed()).toEqual(["strand/2027-03-20/hook", "strand/2027-03-21/hook"]);
    expect(await look(work, "2027-03-22T19:01:00Z")).toEqual([]);
    expect(await missed()).toHaveLength(2);
  });

  it("sends nothing whose light has gone, though the night is not over", async () => {
    const work = await testWork(ledger);
    await look(work, "2027-03-19T15:00:00Z");
    // the stand-in's forecasts tell of light until 20:00
    expect(await look(work, "2027-03-20T20:30:00Z")).toEqual([]);
    expect(await missed()).toEqual(["strand/2027-03-20/hook"]);
  });

  it("posts tonight to a channel that was added since", async () => {
    const work = await testWork(ledger);
    await look(work, "2027-03-20T15:00:00Z");
    const more = { ...work, places: new Map([["strand", place({ channels: ["hook", "second"] })]]) };
    const { orders } = await planDue(more);
    expect(orders.map(({ channels }) => channels)).toEqual([["second"]]);
  });

  it("keeps a refused forecast among the dead, and asks no more", async () => {
    const work = await testWork(ledger, { make: (wanted) => ({ wanted, refused: "no such tide station" }) });
    expect(await look(work, "2027-03-20T15:00:00Z")).toEqual([]);
    expect((await ledger.list("dead"))[0]?.reason).toContain("no such tide station");
    await look(work, "2027-03-20T15:05:00Z");
    expect(work.requested).toBe(1);
  });

  it("asks again for what a stream that broke off did not bring", async () => {
    const places = ["a", "b", "c", "d"].map((id) => place({ id }));
    const work = await testWork(ledger, { places });
    const whole = work.forecasts;
    const broken: TestWork = {
      ...work,
      forecasts: {
        async *make(wanted, signal) {
          let lines = 0;
          for await (const made of whole.make(wanted, signal)) {
            if (lines++ === 2) throw new Error("cut short");
            yield made;
          }
        },
      },
    };
    await expect(look(broken, "2027-03-20T15:00:00Z")).rejects.toThrow("cut short");
    expect((await ledger.list("pending")).map(({ placeId }) => placeId)).toEqual(["a", "b"]);
    expect(await look(work, "2027-03-20T15:01:00Z")).toEqual(["c/2027-03-20/hook", "d/2027-03-20/hook"]);
  });

  it("batches by a thousand", async () => {
    const places = Array.from({ length: 2300 }, (_, index) => place({ id: `spot-${index}` }));
    const work = await testWork(ledger, { places });
    const sizes: number[] = [];
    const counted: TestWork = {
      ...work,
      forecasts: {
        make: (wanted, signal) => {
          sizes.push(wanted.length);
          return work.forecasts.make(wanted, signal);
        },
      },
    };
    expect(await look(counted, "2027-03-20T15:00:00Z")).toHaveLength(2300);
    expect(sizes).toEqual([1000, 1000, 300]);
  });
});

describe("asking by hand", () => {
  it("takes tonight, whatever the hour, or a date, and neither twice", async () => {
    const work = await testWork(ledger, { nowMs: Date.parse("2027-03-20T06:00:00Z") });
    const dates = async (date?: string) => (await planRequested(work, date)).map((order) => order.date);
    expect(await dates()).toEqual(["2027-03-20"]);
    expect(await dates("2026-06-21")).toEqual(["2026-06-21"]);
    await takeUp(work, await planRequested(work, undefined), never, () => {});
    expect(await dates()).toEqual([]);
    // the runner does not post it again at its hour
    expect(await look(work, "2027-03-20T15:00:00Z")).toEqual([]);
  });

  it("sends a night that is past, since somebody asked, but not for ever", async () => {
    const work = await testWork(ledger);
    await takeUp(work, await planRequested(work, "2026-06-21"), never, () => {});
    const [entry] = await ledger.list("pending");
    expect(entry?.expiresMs).toBe(work.clockMs + 6 * 3_600_000);
  });
});
