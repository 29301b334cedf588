import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Outcome } from "@fieldstop/nightly/channels/channel";
import { attempt } from "@fieldstop/nightly/delivery/attempt";
import { replay } from "@fieldstop/nightly/delivery/replay";
import type { Ledger } from "@fieldstop/nightly/ledger/ledger";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ready } from "../support/ready";
import { testWork } from "../support/work";

let folder: string;
let ledger: Ledger;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-attempt-"));
  ledger = new LmdbLedger(folder);
});
afterEach(async () => {
  await ledger.close();
  await rm(folder, { recursive: true });
});

const never = new AbortController().signal;
const FAILED: Outcome = { kind: "failed", reason: "HTTP 500" };

describe("one try of a delivery", () => {
  it("delivers once, and forgets what it sent", async () => {
    const entry = await ready();
    const work = await testWork(ledger);
    await ledger.open([entry]);
    expect(await attempt(work, entry.key, never)).toEqual({ kind: "settled" });
    expect(await attempt(work, entry.key, never)).toEqual({ kind: "settled" });
    expect(work.tried).toHaveLength(1);
    const after = await ledger.get(entry.key);
    expect(after).toMatchObject({ state: "delivered", attempts: 1, messageId: entry.messageId });
    expect(after).not.toHaveProperty("message");
  });

  it("waits longer after each failure, to the longest, then rests among the dead", async () => {
    const entry = await ready();
    const work = await testWork(ledger, { outcome: () => FAILED });
    await ledger.open([entry]);
    const waits: number[] = [];
    for (;;) {
      const step = await attempt(work, entry.key, never);
      if (step.kind === "settled") break;
      waits.push(step.atMs - work.clockMs);
      // too early: nothing is sent
      const tries = work.tried.length;
      work.clockMs = step.atMs - 1;
      expect(await attempt(work, entry.key, never)).toEqual(step);
      expect(work.tried).toHaveLength(tries);
      work.clockMs = step.atMs;
    }
    expect(waits).toEqual([1000, 2000, 3000]);
    expect(work.tried.map(({ messageId }) => messageId)).toEqual(Array(4).fill(entry.messageId));
    expect(await ledger.get(entry.key)).toMatchObject({ state: "dead", attempts: 4, reason: "HTTP 500" });
  });

  it("comes back no sooner than the receiver asked", async () => {
    const entry = await ready();
    const work = await testWork(ledger, { outcome: () => ({ ...FAILED, retryAfterMs: 60_000 }) as Outcome });
    await ledger.open([entry]);
    expect(await attempt(work, entry.key, never)).toEqual({ kind: "later", atMs: work.clockMs + 60_000 });
  });

  it("gives up at once where no further try can help", async () => {
    const entry = await ready();
    const work = await testWork(ledger, { outcome: () => ({ kind: "failed", reason: "HTTP 410", final: true }) });
    await ledger.open([entry]);
    expect(await attempt(work, entry.key, never)).toEqual({ kind: "settled" });
    expect(await ledger.get(entry.key)).toMatchObject({ state: "dead", attempts: 1 });
  });

  it("sends nothing that comes too late", async () => {
    const work = await testWork(ledger, { outcome: () => FAILED });
    const late = await ready({ expiresMs: work.clockMs });
    const soon = await ready({ placeId: "ward", expiresMs: work.clockMs + 500 });
    await ledger.open([late, soon]);
    expect(await attempt(work, late.key, never)).toEqual({ kind: "settled" });
    expect(work.tried).toEqual([]);
    expect((await ledger.get(late.key))?.reason).toBe("the night was over before it arrived");
    // the next try would come after the end
    expect(await attempt(work, soon.key, never)).toEqual({ kind: "settled" });
    expect(await ledger.get(soon.key)).toMatchObject({ state: "dead" });
  });

  it("does not count a try that the runner's own stop cut off", async () => {
    const entry = await ready();
    const stop = new AbortController();
    const work = await testWork(ledger, {
      outcome: () => {
        stop.abort();
        return FAILED;
      },
    });
    await ledger.open([entry]);
    expect((await attempt(work, entry.key, stop.signal)).kind).toBe("later");
    expect(await ledger.get(entry.key)).toEqual(entry);
  });

  it("dies of a channel that the places file has no more", async () => {
    const entry = await ready({ channel: "gone" });
    await ledger.open([entry]);
    await attempt(await testWork(ledger), entry.key, never);
    expect(await ledger.get(entry.key)).toMatchObject({ state: "dead", reason: "the places file has no such channel" });
  });
});

describe("a replay", () => {
  it("tries the dead again under their old ids", async () => {
    const entry = await ready();
    let fails = true;
    const work = await testWork(ledger, {
      outcome: () => (fails ? ({ ...FAILED, final: true } as Outcome) : { kind: "delivered" }),
    });
    await ledger.open([entry]);
    await attempt(work, entry.key, never);
    fails = false;
    expect(await replay(ledger, await ledger.list("dead"), work.clockMs)).toHaveLength(1);
    expect(await ledger.list("dead")).toEqual([]);
    await attempt(work, entry.key, never);
    expect(await ledger.get(entry.key)).toMatchObject({ state: "delivered" });
    expect(new Set(work.tried.map(({ messageId }) => messageId)).size).toBe(1);
  });

  it("makes the forecast that was refused before", async () => {
    const { message: _, ...entry } = await ready({ state: "dead", reason: "the service makes no forecast" });
    const work = await testWork(ledger);
    await ledger.open([entry]);
    await replay(ledger, await ledger.list("dead"), work.clockMs);
    await attempt(work, entry.key, never);
    expect(work.tried[0]?.message.headline).toMatch(/^Direct light/);
    expect(await ledger.get(entry.key)).toMatchObject({ state: "delivered" });
  });

  it("brings nothing back that was delivered meanwhile", async () => {
    const entry = await ready({ state: "dead" });
    await ledger.open([entry]);
    const dead = await ledger.list("dead");
    await ledger.update({ ...entry, state: "delivered" });
    expect(await replay(ledger, dead, 0)).toEqual([]);
  });
});
