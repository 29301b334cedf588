import { existsSync } from "node:fs";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, it } from "vitest";
import { writePlaces } from "../support/places-file";
import { type Manner, Receiver, SECRET } from "../support/receiver";
import { BUILT_COMMAND, RunnerProcess } from "../support/runner-process";
import { StandInService } from "../support/stand-in-service";

const command = BUILT_COMMAND;
let service: StandInService;
let receiver: Receiver;
let manner: Manner = "accept";
let folder: string;
beforeAll(async () => {
  service = await StandInService.start();
});
afterAll(() => service.stop());
beforeEach(async () => {
  manner = "accept";
  folder = await mkdtemp(join(tmpdir(), "nightly-cli-"));
  receiver = await Receiver.start(() => manner);
});
afterEach(async () => {
  await receiver.stop();
  await rm(folder, { recursive: true });
});

function start(args: readonly string[], env: Record<string, string> = {}): RunnerProcess {
  const all = { ARDVANE_SECRET: SECRET, FIELDSTOP_API_URL: service.baseUrl, ...env };
  return new RunnerProcess(
    command,
    ["--places", join(folder, "places.json"), "--ledger", join(folder, "ledger"), ...args],
    all,
  );
}

async function nightly(args: readonly string[], env?: Record<string, string>) {
  const runner = start(args, env);
  const { code } = await runner.ended;
  return { code, stdout: runner.stdout, stderr: runner.stderr };
}

const places = (count: number, rest: object = {}) =>
  writePlaces(join(folder, "places.json"), count, receiver.url, rest);
const quick = { retry: { attempts: 2, firstSeconds: 0.1, longestSeconds: 0.1 } };
const lines = (text: string) => text.split("\n").filter((line) => line !== "");

describe("a service of the command's own", () => {
  it("knows when the command is gone, even where that was killed", async () => {
    await places(1);
    const stub = join(folder, "service.mjs");
    const told = join(folder, "told");
    await writeFile(
      stub,
      `import { writeFileSync } from "node:fs";
const tell = (what) => writeFileSync(${JSON.stringify(told)}, what);
process.once("disconnect", () => { tell("gone"); process.exit(); });
tell("up");
console.log("listens at ${service.baseUrl}");`,
    );
    const runner = start(["--serve", stub], { FIELDSTOP_API_URL: "" });
    const latest = () => readFile(told, "utf8").catch(() => runner.stderr);
    await expect.poll(latest, { timeout: 10_000 }).toBe("up");
    runner.kill("SIGKILL");
    await expect.poll(latest, { timeout: 10_000 }).toBe("gone");
  });
});

describe("a single pass", () => {
  it("posts once, says so in one line of a log, and finds nothing to do after", async () => {
    await places(5);
    const first = await nightly(["--once"]);
    expect(first.code).toBe(0);
    expect(first.stdout).toBe("");
    expect(lines(first.stderr).map((line) => JSON.parse(line))).toMatchObject([
      { event: "summary", forecastsMade: 5, delivered: 5, dead: 0 },
    ]);
    expect((await nightly(["--once"])).code).toBe(0);
    expect(receiver.requests).toBe(5);
    expect((await nightly(["--once", "--date", "2027-03-20"])).code).toBe(0);
    expect(receiver.requests).toBe(10);
    expect(receiver.taken.size).toBe(10);
  });

  it("shows what it would do, and does nothing", async () => {
    await places(2);
    const { code, stdout } = await nightly(["--dry-run", "--date", "2027-03-20"], { ARDVANE_SECRET: "" });
    expect(code).toBe(0);
    expect(stdout).toContain("spot-0000, Saturday 20 March 2027, evening\nDirect light ");
    expect(stdout).toMatch(/would go to hook \(webhook\) as msg_/);
    expect(receiver.requests).toBe(0);
    expect((await nightly(["dead"])).stdout).toBe("");
  });

  it("prints to standard output where a place asks for it", async () => {
    await places(1, { channels: { hook: { kind: "console" } } });
    const { code, stdout } = await nightly(["--once", "--date", "2027-03-20"]);
    expect(code).toBe(0);
    expect(lines(stdout)[0]).toBe("spot-0000, Saturday 20 March 2027, evening");
  });

  it("writes a feed and a calendar", async () => {
    await places(3, {
      channels: { hook: { kind: "atom", file: "out/a.atom" }, cal: { kind: "ics", file: "out/a.ics" } },
    });
    expect((await nightly(["--once"])).code).toBe(0);
    expect((await readFile(join(folder, "out/a.atom"), "utf8")).match(/<entry>/g)).toHaveLength(3);
  });

  it("keeps what failed among the dead, shows it and replays it under the old id", async () => {
    await places(2, quick);
    manner = "fail";
    expect((await nightly(["--once"])).code).toBe(3);
    expect(receiver.requests).toBe(4);
    const dead = await nightly(["dead"]);
    expect(dead.stdout).toMatch(/^msg_\S{32} {2}\S+Z {2}spot-000\d\/\S+\/hook {2}2 tries: HTTP 500$/m);
    const entries = lines((await nightly(["dead", "--json"])).stdout).map((line) => JSON.parse(line));
    expect(entries).toHaveLength(2);
    manner = "accept";
    expect((await nightly(["replay", entries[0].messageId])).code).toBe(0);
    expect((await nightly(["--once"])).code).toBe(0);
    expect([...receiver.taken.keys()]).toEqual([entries[0].messageId]);
    expect((await nightly(["replay", "--all"])).code).toBe(0);
    expect((await nightly(["--once"])).code).toBe(0);
    expect(new Set(receiver.taken.keys())).toEqual(new Set(entries.map(({ messageId }) => messageId)));
    expect(lines((await nightly(["dead"])).stdout)).toEqual([]);
  });

  it("leaves what still waits to the next run", async () => {
    await places(1, { retry: { attempts: 9, firstSeconds: 2, longestSeconds: 2 } });
    manner = "fail";
    expect((await nightly(["--once", "--wait", "1"])).code).toBe(3);
    manner = "accept";
    await sleep(1500);
    expect((await nightly(["--once"])).code).toBe(0);
    expect(receiver.taken.size).toBe(1);
  });
});

describe("a command that makes no sense", () => {
  it.each([
    ["an unknown option", ["--bogus"], {}, "unknown option '--bogus'"],
    ["a date that is none", ["--once", "--date", "2027-02-30"], {}, "Allowed: a calendar day"],
    ["a date without a pass", ["--date", "2027-02-28"], {}, "--date goes with --once"],
    ["nothing to replay", ["replay"], {}, "Say which to replay"],
    ["a dead one that is not there", ["replay", "msg_none"], {}, "Nothing dead is named msg_none"],
    ["no service", ["--once"], { FIELDSTOP_API_URL: "" }, "FIELDSTOP_API_URL"],
    ["no secret", ["--once"], { ARDVANE_SECRET: "" }, "the environment variable ARDVANE_SECRET is not set"],
  ])("ends with 2 and a sentence for %s", async (_, args, env, expected) => {
    await places(1);
    const { code, stderr } = await nightly(args, env as never);
    expect(code).toBe(2);
    expect(stderr).toContain(expected);
    expect(stderr).not.toContain("    at ");
    expect(receiver.requests).toBe(0);
  });

  it("ends with 2 and the line of a fault in the places file", async () => {
    await writeFile(join(folder, "places.json"), '{\n"channels": {},\n"plaices": []\n}');
    const { code, stderr } = await nightly(["--once"]);
    expect(code).toBe(2);
    expect(stderr).toContain("places.json:3: plaices: no such field");
  });
});

describe("a variable in its name that it does not read", () => {
  it("is told of in a line of the log, those apart that the places file names", async () => {
    await places(1, { channels: { hook: { kind: "chat", urlEnv: "FIELDSTOP_CHAT" } } });
    const set = {
      FIELDSTOP_CHAT: receiver.url,
      FIELDSTOP_REDIS_ULR: "redis://s3cret@cache.example",
      FIELDSTOP_LOG_LEVEL: "warn",
      FIELDSTOP_SERVICE_HOST: "10.0.0.7",
    };
    const { code, stderr } = await nightly(["--once"], set);
    expect(code).toBe(0);
    expect(lines(stderr).map((line) => JSON.parse(line))).toMatchObject([
      {
        event: "note",
        text: "FIELDSTOP_REDIS_ULR is set, but nothing reads it; there are FIELDSTOP_API_URL, FIELDSTOP_API_KEY, FIELDSTOP_REDIS_URL, FIELDSTOP_LOG_LEVEL.",
      },
    ]);
  });
});

describe("the world around it", () => {
  it("ends with 2 and a sentence where there can be no ledger", async () => {
    await places(1);
    for (const args of [["--once"], ["dead"]]) {
      const { code, stderr } = await nightly([...args, "--ledger", join(folder, "places.json", "ledger")]);
      expect(code).toBe(2);
      expect(lines(stderr)).toEqual([expect.stringMatching(/^The ledger cannot be opened in \S+ \(ENOTDIR.*\)\.$/)]);
    }
  });

  it.skipIf(!existsSync("/proc/self"))("ends with 2 where a folder is there but takes none", async () => {
    await places(1);
    const runner = start(["--once", "--ledger", "/proc/ardvane/ledger"]);
    const late = setTimeout(() => runner.kill("SIGKILL"), 10_000);
    expect(await runner.ended).toEqual({ code: 2, signal: null });
    clearTimeout(late);
    expect(lines(runner.stderr)).toEqual([
      expect.stringMatching(/^The ledger cannot be opened in \/proc\/ardvane\/ledger \(ENOENT.*\)\.$/),
    ]);
  });

  it("makes the folders of a ledger one in another", async () => {
    await places(1);
    expect((await nightly(["--once", "--ledger", join(folder, "state", "of", "ardvane")])).code).toBe(0);
    expect(existsSync(join(folder, "state", "of", "ardvane", "ledger.mdb"))).toBe(true);
  });

  it("ends with 5 where the service is not there", async () => {
    await places(1);
    expect((await nightly(["--once"], { FIELDSTOP_API_URL: "http://127.0.0.1:9" })).code).toBe(5);
  });

  it("ends with 4 where another runner posts from the ledger", async () => {
    await places(1);
    const ledger = new LmdbLedger(join(folder, "ledger"));
    await ledger.lease(() => {});
    const { code, stderr } = await nightly(["--once"]);
    await ledger.close();
    expect(code).toBe(4);
    expect(stderr).toContain("posts from this ledger");
  });

  it("tells its options, exit codes and variables with --help", async () => {
    const { code, stdout } = await nightly(["--help"]);
    expect(code).toBe(0);
    for (const told of ["--once", "--dry-run", "--date", "replay", "dead", "Exit codes:", "FIELDSTOP_REDIS_URL"]) {
      expect(stdout).toContain(told);
    }
  });
});

describe("a runner that goes on", () => {
  it("lets what is on its way arrive when it is stopped, and takes up what was replayed beside it", async () => {
    await places(3, quick);
    manner = "fail";
    const runner = start([]);
    while (receiver.requests < 6) await sleep(20);
    await sleep(200);
    manner = "accept";
    expect((await nightly(["replay", "--all"])).code).toBe(0);
    while (receiver.taken.size < 3) await sleep(20);
    await sleep(100);
    runner.kill("SIGTERM");
    expect(await runner.ended).toEqual({ code: 0, signal: null });
    const told = lines(runner.stderr).map((line) => JSON.parse(line));
    expect(told.filter(({ event }) => event === "dead")).toHaveLength(3);
    expect(told.at(-1)).toMatchObject({ event: "summary", delivered: 3, dead: 3 });
  });
});
