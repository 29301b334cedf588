import { spawn } from "node:child_process";
import { once } from "node:events";
import { existsSync, openSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { type SmallDisk, smallDisk } from "../support/full-disk";
import { writePlaces } from "../support/places-file";
import { Receiver, SECRET } from "../support/receiver";
import { BUILT_COMMAND, RunnerProcess } from "../support/runner-process";
import { StandInService } from "../support/stand-in-service";

const command = BUILT_COMMAND;
let service: StandInService;
let receiver: Receiver;
let folder: string;
beforeAll(async () => {
  service = await StandInService.start();
});
afterAll(() => service.stop());
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-full-"));
  receiver = await Receiver.start();
});
afterEach(async () => {
  await receiver.stop();
  await rm(folder, { recursive: true });
});

const COUNT = 60;
const quick = { retry: { attempts: 2, firstSeconds: 0.1, longestSeconds: 0.1 } };
const lines = (text: string) => text.split("\n").filter((line) => line !== "");
const environment = () => ({ ARDVANE_SECRET: SECRET, FIELDSTOP_API_URL: service.baseUrl });

async function nightly(ledger: string, args: readonly string[]) {
  const all = ["--places", join(folder, "places.json"), "--ledger", ledger, ...args];
  const runner = new RunnerProcess(command, all, environment());
  const late = setTimeout(() => runner.kill("SIGKILL"), 30_000);
  const { code, signal } = await runner.ended;
  clearTimeout(late);
  return { code, signal, stdout: runner.stdout, stderr: runner.stderr };
}

const disk: SmallDisk | undefined = smallDisk();
afterAll(() => disk?.unmount());

// where no disk can be mounted these are skipped
describe.skipIf(disk === undefined)("a ledger on a full disk", () => {
  const { folder: mounted = "", fill, empty } = disk ?? ({} as SmallDisk);
  const ledger = join(mounted, "ledger");
  afterEach(async () => {
    empty();
    await rm(ledger, { recursive: true, force: true });
  });

  it("ends with 6 and a sentence where it was full before", async () => {
    await writePlaces(join(folder, "places.json"), COUNT, receiver.url);
    fill(0);
    const { code, stderr } = await nightly(ledger, ["--once"]);
    expect(code).toBe(6);
    expect(lines(stderr)).toEqual([`The ledger ${ledger}/ledger.mdb cannot be written: the disk is full.`]);
    expect(receiver.requests).toBe(0);
  });

  it.each([
    ["a single pass", ["--once"]],
    ["a runner that goes on", []],
  ])("ends %s with 6 where it fills up meanwhile, and nothing counts as delivered that was not", async (_, args) => {
    await writePlaces(join(folder, "places.json"), COUNT, receiver.url);
    fill(100_000);
    const { code, stderr } = await nightly(ledger, args);
    expect(code).toBe(6);
    expect(lines(stderr).at(-1)).toMatch(/ledger\.mdb cannot be written: the disk is full/);
    expect(stderr).not.toContain("    at ");
    const taken = new Set(receiver.taken.keys());
    empty();
    const kept = new LmdbLedger(ledger);
    const waiting = (await kept.list("pending")).filter(({ messageId }) => taken.has(messageId));
    await kept.close();
    // with room again, the rest is posted, and what could not be noted once more under its id
    expect((await nightly(ledger, ["--once"])).code).toBe(0);
    expect(receiver.taken.size).toBe(COUNT);
    expect(receiver.repeated).toBe(waiting.length);
  });

  it("fails what goes to a file there, to be tried again, and ends", async () => {
    const channels = { hook: { kind: "atom", file: join(mounted, "out", "a.atom") } };
    await writePlaces(join(folder, "places.json"), 3, receiver.url, { ...quick, channels });
    fill(0);
    const full = await nightly(join(folder, "ledger"), ["--once"]);
    expect(full.code).toBe(3);
    expect(full.stderr).toContain("ENOSPC");
    const told = lines(full.stderr).map((line) => JSON.parse(line));
    expect(told.at(-1)).toMatchObject({ event: "summary", delivered: 0, dead: 3 });
    empty();
    expect((await nightly(join(folder, "ledger"), ["replay", "--all"])).code).toBe(0);
    expect((await nightly(join(folder, "ledger"), ["--once"])).code).toBe(0);
    expect(existsSync(join(mounted, "out", "a.atom"))).toBe(true);
  });
});

describe.skipIf(!existsSync("/dev/full"))("an output on a full disk", () => {
  /** The command with one of its outputs on a disk that takes nothing. */
  function writing(args: readonly string[], output: "stdout" | "stderr") {
    const full = openSync("/dev/full", "w");
    const all = ["--places", join(folder, "places.json"), "--ledger", join(folder, "ledger"), ...args];
    return spawn(process.execPath, [command, ...all], {
      env: { PATH: process.env["PATH"], ...environment() },
      stdio: ["ignore", output === "stdout" ? full : "ignore", output === "stderr" ? full : "ignore"],
    });
  }

  it("does not count what could not be printed as delivered", async () => {
    await writePlaces(join(folder, "places.json"), 2, receiver.url, {
      ...quick,
      channels: { hook: { kind: "console" } },
    });
    expect(await once(writing(["--once"], "stdout"), "exit")).toEqual([3, null]);
    const { stdout } = await nightly(join(folder, "ledger"), ["dead"]);
    expect(lines(stdout)).toHaveLength(2);
    expect(stdout).toContain("ENOSPC");
  });

  it("stops no delivery where it is the log, nor the stop", async () => {
    await writePlaces(join(folder, "places.json"), 2, receiver.url);
    const runner = writing([], "stderr");
    const ended = once(runner, "exit");
    await expect.poll(() => receiver.taken.size, { timeout: 20_000 }).toBe(2);
    runner.kill("SIGTERM");
    const late = setTimeout(() => runner.kill("SIGKILL"), 15_000);
    expect(await ended).toEqual([0, null]);
    clearTimeout(late);
  });
});
