import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import type { Entry, Ledger } from "@fieldstop/nightly/ledger/ledger";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { RedisLedger } from "@fieldstop/nightly/ledger/redis-ledger";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { lacks, Program } from "../../load/programs";
import { ready } from "../support/ready";

const lacking = lacks("redis-server");
let redis: Program | undefined;
let folder: string;
let runs = 0;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-ledger-"));
  if (lacking === undefined) redis = await Program.redis({ durable: true });
});
afterAll(async () => {
  await redis?.remove();
  await rm(folder, { recursive: true });
});

const kinds: [string, boolean, (run: number) => Ledger][] = [
  ["on one machine", true, (run) => new LmdbLedger(join(folder, String(run)))],
  [
    lacking === undefined ? "in Redis" : `in Redis (${lacking})`,
    lacking === undefined,
    (run) => new RedisLedger(`redis://127.0.0.1:${redis?.address.port}`, `{test-${run}}`),
  ],
];

describe.each(kinds)("a ledger %s", (_, available, make) => {
  let ledger: Ledger;
  beforeEach(() => {
    if (available) ledger = make(runs);
  });
  afterEach(async () => {
    if (available) await ledger.close();
    runs++;
  });
  const test = it.skipIf(!available);

  const settled = (entry: Entry, state: Entry["state"]): Entry => ({ ...entry, state, sinceMs: 5 });

  test("knows what it was told, also when it is opened again", async () => {
    const entry = await ready();
    expect(await ledger.unknown([entry.key])).toEqual(new Set([entry.key]));
    expect(await ledger.open([entry])).toEqual([entry]);
    await ledger.close();
    ledger = make(runs);
    expect(await ledger.unknown([entry.key, "a/2027-01-01/b"])).toEqual(new Set(["a/2027-01-01/b"]));
    expect(await ledger.get(entry.key)).toEqual(entry);
    expect(await ledger.get("a/2027-01-01/b")).toBeUndefined();
    expect(await ledger.list("pending")).toEqual([entry]);
  });

  test("takes up each delivery once", async () => {
    const [one, two] = [await ready(), await ready({ placeId: "ward" })];
    await ledger.open([one]);
    expect(await ledger.open([settled(one, "missed"), two])).toEqual([two]);
    expect(await ledger.get(one.key)).toEqual(one);
  });

  test("takes up each delivery once when many want to at the same time", async () => {
    const entry = await ready();
    const opened = await Promise.all(Array.from({ length: 20 }, () => ledger.open([entry])));
    expect(opened.flat()).toHaveLength(1);
  });

  test("moves an entry from list to list", async () => {
    const entry = await ready();
    await ledger.open([entry]);
    expect(await ledger.update(settled(entry, "dead"))).toBe(true);
    expect(await ledger.list("pending")).toEqual([]);
    expect((await ledger.list("dead")).map(({ key }) => key)).toEqual([entry.key]);
    expect(await ledger.update(entry)).toBe(true);
    expect(await ledger.list("dead")).toEqual([]);
    expect(await ledger.list("pending")).toEqual([entry]);
  });

  test("holds that delivered is delivered, whatever a slower runner says", async () => {
    const entry = await ready();
    await ledger.open([entry]);
    expect(await ledger.update(settled(entry, "delivered"))).toBe(true);
    expect(await ledger.update(settled(entry, "dead"))).toBe(false);
    expect(await ledger.update(entry)).toBe(false);
    expect((await ledger.get(entry.key))?.state).toBe("delivered");
    expect(await ledger.list("pending")).toEqual([]);
    expect(await ledger.list("dead")).toEqual([]);
  });

  test("remembers through which night it came", async () => {
    await ledger.setThrough(new Map([["strand", "2027-03-20"]]));
    await ledger.setThrough(new Map([["strand", "2027-03-21"]]));
    await ledger.setThrough(new Map());
    expect(await ledger.through(["strand", "ward"])).toEqual(new Map([["strand", "2027-03-21"]]));
    expect(await ledger.through([])).toEqual(new Map());
  });

  test("keeps the newest nights of a file, each once", async () => {
    for (const date of ["2027-03-20", "2027-03-22", "2027-03-21", "2027-03-20"]) {
      const { message, messageId } = await ready({ night: date });
      await ledger.addItem("a.atom", { id: messageId, updatedMs: 1, message });
    }
    const other = await ready({ placeId: "ward", night: "2027-03-22" });
    await ledger.addItem("a.atom", { id: other.messageId, updatedMs: 1, message: other.message });
    await ledger.addItem("b.atom", { id: other.messageId, updatedMs: 1, message: other.message });
    const dates = (await ledger.items("a.atom", 2)).map(({ message }) => message.date);
    expect(dates).toEqual(["2027-03-22", "2027-03-22", "2027-03-21"]);
    // what was left out is forgotten
    expect(await ledger.items("a.atom", 10)).toHaveLength(3);
    expect(await ledger.items("b.atom", 10)).toHaveLength(1);
  });

  test("lets one at a time into a file", async () => {
    let inside = 0;
    let most = 0;
    const enter = () =>
      ledger.exclusively("a.atom", async () => {
        most = Math.max(most, ++inside);
        await new Promise((resolve) => setTimeout(resolve, 2));
        inside--;
      });
    await Promise.all(Array.from({ length: 10 }, enter));
    await expect(ledger.exclusively("a.atom", () => Promise.reject(new Error("full")))).rejects.toThrow("full");
    await enter();
    expect(most).toBe(1);
  });
});

describe("a ledger on one machine", () => {
  it("forgets what was settled long ago, and nothing that waits", async () => {
    const ledger = new LmdbLedger(join(folder, "prune"));
    const [old, recent, waiting] = [
      await ready({ night: "2026-01-01" }),
      await ready(),
      await ready({ placeId: "ward" }),
    ];
    await ledger.open([old, recent, waiting]);
    await ledger.update({ ...old, state: "delivered", sinceMs: 1 });
    await ledger.update({ ...recent, state: "delivered", sinceMs: 100 });
    await ledger.prune(50);
    expect(await ledger.unknown([old.key, recent.key, waiting.key])).toEqual(new Set([old.key]));
    await ledger.close();
  });
});
