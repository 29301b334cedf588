import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import type { AddressInfo } from "node:net";
import { join } from "node:path";
import { createInterface } from "node:readline";
import { text } from "node:stream/consumers";
import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "../sdk/server";
import { noBrowser, openBrowser, reason } from "../site/browser";

// Each program of docs/examples runs here as its reader would run it, against the service in this process.

const root = fileURLToPath(new URL("../..", import.meta.url));
const example = (name: string): string => join(root, "docs/examples", name);
const DATE = "2027-03-20";
const HEADLINE = "Direct light goes at 18:18 behind higher ground in the west";

let service: RunningServer;
beforeAll(async () => {
  const terrain = await createTerrain({ sources: [join(root, "demo/elevation")] });
  service = await startServer(testApp({ terrain }));
});
afterAll(() => service.close());

function start(command: string, args: readonly string[], variables: Record<string, string> = {}): ChildProcess {
  const { CHAT_WEBHOOK: _, FIELDSTOP_API_KEY: __, ...environment } = process.env;
  return spawn(command, args, { cwd: root, env: { ...environment, FIELDSTOP_URL: service.baseUrl, ...variables } });
}

async function ended(child: ChildProcess): Promise<{ code: number | null; out: string; err: string }> {
  const code = new Promise<number | null>((resolve) => child.on("close", resolve));
  const [out, err] = await Promise.all([
    text(child.stdout as NodeJS.ReadableStream),
    text(child.stderr as NodeJS.ReadableStream),
  ]);
  return { code: await code, out, err };
}

describe("bot.mjs", () => {
  it("prints a message for each place", async () => {
    const { code, out, err } = await ended(start(process.execPath, [example("bot.mjs")], { FORECAST_DATE: DATE }));
    expect([code, err]).toEqual([0, ""]);
    expect(out).toContain(`Ardvane Strand: ${HEADLINE}`);
    expect(out).toContain("Gannet Head: Direct light goes at");
    expect(out).toContain("Never look at the sun");
  });

  it("posts to a webhook, and ends with an error where that refuses", async () => {
    const received: { text: string }[] = [];
    const hook = createServer(async (request, response) => {
      received.push(JSON.parse(await text(request)));
      response.writeHead(received.length === 1 ? 204 : 500).end();
    });
    await new Promise<void>((resolve) => hook.listen(0, "127.0.0.1", resolve));
    const variables = { FORECAST_DATE: DATE, CHAT_WEBHOOK: `http://127.0.0.1:${(hook.address() as AddressInfo).port}` };
    const { code, out, err } = await ended(start(process.execPath, [example("bot.mjs")], variables));
    hook.close();
    expect(received.map((message) => message.text.split(":")[0]).sort()).toEqual(["Ardvane Strand", "Gannet Head"]);
    expect([code, out]).toEqual([1, ""]);
    expect(err).toContain("the webhook answered 500");
  });

  it("ends with what the service said where it is refused", async () => {
    const { code, err } = await ended(
      start(process.execPath, [example("bot.mjs")], { FIELDSTOP_URL: `${service.baseUrl}/nowhere` }),
    );
    expect(code).toBe(1);
    expect(err).toMatch(/Error: \S+/);
  });
});

describe("server.ts", () => {
  let child: ChildProcess;
  let baseUrl: string;
  beforeAll(async () => {
    const options = ["--conditions=fieldstop-source", "--import", "tsx"];
    child = start(process.execPath, [...options, example("server.ts")], { PORT: "0" });
    const [line] = await once(createInterface({ input: child.stdout as NodeJS.ReadableStream }), "line");
    baseUrl = new URL(line as string).origin;
  });
  afterAll(() => child.kill());

  const ask = async (path: string) => {
    const response = await fetch(`${baseUrl}${path}`);
    return { status: response.status, body: await response.json() };
  };

  it("answers for a spot of its own", async () => {
    expect(await ask(`/light/strand?date=${DATE}`)).toEqual({
      status: 200,
      body: { spot: "Ardvane Strand", directLightUntil: "2027-03-20T18:18:02+00:00", behindTerrain: true },
    });
  });

  it("tells what the caller can mend, and what is not there", async () => {
    expect(await ask("/light/strand?date=2027-02-30")).toMatchObject({
      status: 400,
      body: { error: expect.stringContaining("date") },
    });
    expect((await ask("/light/atlantis")).status).toBe(404);
  });
});

describe.skipIf(noBrowser)(`page.html${reason}`, () => {
  it("shows tonight without a build", async () => {
    const page = readFileSync(example("page.html"));
    const host = createServer((_, response) => response.writeHead(200, { "Content-Type": "text/html" }).end(page));
    await new Promise<void>((resolve) => host.listen(0, "127.0.0.1", resolve));
    const browser = await openBrowser();
    try {
      const tab = await browser.newPage();
      const address = new URL(`http://127.0.0.1:${(host.address() as AddressInfo).port}`);
      address.search = String(new URLSearchParams({ service: service.baseUrl, date: DATE }));
      await tab.goto(address.href);
      await tab.waitForFunction(() => (document.querySelector("#picture") as HTMLImageElement).naturalWidth > 0);
      expect(await tab.textContent("#headline")).toContain(HEADLINE);
      expect(await tab.locator("#facts li").count()).toBeGreaterThan(2);
      expect(await tab.textContent("#cautions")).toContain("Never look at the sun");
      address.searchParams.set("date", "2027-02-30");
      await tab.goto(address.href);
      await tab.waitForFunction(() => document.querySelector("#headline")?.textContent?.includes("not available"));
      expect(await tab.textContent("#headline")).toContain("date");
    } finally {
      await browser.close();
      host.close();
    }
  });

  it("names no other host than the service", () => {
    const hosts = [...readFileSync(example("page.html"), "utf8").matchAll(/https?:\/\/[^/"'`\s]+/g)].map(
      ([host]) => host,
    );
    expect(hosts).toEqual(["http://127.0.0.1:8787"]);
  });
});

const noPython = spawnSync("python3", ["--version"]).status !== 0;
describe.skipIf(noPython)(`fieldstop.py${noPython ? " (skipped: no python3)" : ""}`, () => {
  it("prints until when there is direct light, and the exposure at that moment", async () => {
    const { code, out, err } = await ended(start("python3", [example("fieldstop.py"), "56.6", "-9.4", DATE]));
    expect([code, err]).toEqual([0, ""]);
    expect(out).toMatch(/^direct light until 2027-03-20T18:18:02\+00:00\nf\/11, ISO 100 behind 6 stops: \d+ s\n$/);
  });

  it("says which field is refused", async () => {
    const { code, err } = await ended(start("python3", [example("fieldstop.py"), "91", "0", DATE]));
    expect(code).toBe(1);
    expect(err).toContain("query:latitude");
  });
});
