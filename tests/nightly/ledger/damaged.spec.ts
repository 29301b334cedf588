import { copyFile, mkdir, mkdtemp, readFile, rm, stat, truncate, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { LedgerFault } from "@fieldstop/nightly/ledger/ledger-fault";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { ready } from "../support/ready";
import { BUILT_COMMAND, RunnerProcess } from "../support/runner-process";

let folder: string;
let whole: string;
let cases = 0;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-damaged-"));
  whole = join(folder, "whole");
  const ledger = new LmdbLedger(whole);
  await ledger.open(await Promise.all(Array.from({ length: 50 }, (_, index) => ready({ placeId: `spot-${index}` }))));
  await ledger.close();
});
afterAll(() => rm(folder, { recursive: true }));

/** A copy of the whole ledger, as one moves it to another machine: without its lock. */
async function copy(): Promise<string> {
  const place = join(folder, `copy-${cases++}`);
  await mkdir(place);
  for (const name of ["ledger.mdb", "ledger.begun"]) await copyFile(join(whole, name), join(place, name));
  return place;
}

describe("a ledger that was cut off or overwritten", () => {
  it("opens as it was where nothing is wrong", async () => {
    const ledger = new LmdbLedger(await copy());
    expect(await ledger.list("pending")).toHaveLength(50);
    await ledger.close();
  });

  it.each([
    ["nothing", () => 0, "is damaged: it is empty."],
    ["one byte", () => 1, "is damaged: it does not begin as a ledger does."],
    ["one page", () => 4096, "is damaged: it does not begin as a ledger does."],
    ["its headers", () => 8192, "is damaged: it has 8192 bytes of "],
    ["half", (size: number) => Math.floor(size / 2), "is damaged: it has "],
    ["all but its last byte", (size: number) => size - 1, "is damaged: it has "],
  ])("is refused by name where it was cut to %s", async (_, left, told) => {
    const place = await copy();
    const file = join(place, "ledger.mdb");
    await truncate(file, left((await stat(file)).size));
    expect(() => new LmdbLedger(place)).toThrow(LedgerFault);
    expect(() => new LmdbLedger(place)).toThrow(`The ledger ${file} ${told}`);
  });

  it("is refused by name where it holds something else, or is gone", async () => {
    const place = await copy();
    const file = join(place, "ledger.mdb");
    await writeFile(file, Buffer.alloc(100_000, "the ridge takes the sun at six."));
    expect(() => new LmdbLedger(place)).toThrow(`The ledger ${file} is damaged: it does not begin as a ledger does.`);
    await rm(file);
    expect(() => new LmdbLedger(place)).toThrow(`The ledger ${file} is gone.`);
    await mkdir(file);
    expect(() => new LmdbLedger(place)).toThrow(`The ledger ${file} is no plain file.`);
  });

  it("is refused by name where pages in its middle were overwritten", async () => {
    const place = await copy();
    const file = join(place, "ledger.mdb");
    const bytes = await readFile(file);
    await writeFile(file, bytes.fill("the ridge", 8192));
    expect(() => new LmdbLedger(place)).toThrow(`The ledger ${file} is damaged (MDB_`);
  });

  it("begins anew where a first start was killed before it had written anything", async () => {
    const place = join(folder, "killed");
    await mkdir(place);
    await writeFile(join(place, "ledger.mdb"), "");
    const ledger = new LmdbLedger(place);
    expect(await ledger.list("pending")).toEqual([]);
    await ledger.close();
  });

  it("ends the command with 6 and a sentence, and begins anew once it was moved away", async () => {
    const place = await copy();
    const file = join(place, "ledger.mdb");
    await truncate(file, 8192);
    const command = BUILT_COMMAND;
    const runner = new RunnerProcess(command, ["--ledger", place, "dead"], {});
    expect(await runner.ended).toEqual({ code: 6, signal: null });
    expect(runner.stderr).toMatch(/^The ledger \S+ledger\.mdb is damaged: it has 8192 bytes of \d+\.\n$/);
    for (const name of ["ledger.mdb", "ledger.begun", "ledger.mdb-lock"]) await rm(join(place, name), { force: true });
    expect(await new RunnerProcess(command, ["--ledger", place, "dead"], {}).ended).toEqual({ code: 0, signal: null });
  });
});
