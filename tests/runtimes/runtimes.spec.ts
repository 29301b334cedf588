import { type ChildProcess, execFileSync, spawn } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createServer, type Server } from "node:http";
import { type AddressInfo, createServer as createSocket } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createRemoteTerrain } from "@fieldstop/terrain/remote";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { type TestApp, testApp } from "../api/harness";
import { type Runtime, runtimes } from "./runtimes";

// One module, served by every runtime that speaks fetch: the same answers, byte for byte.

const api = fileURLToPath(new URL("../../apps/api/", import.meta.url));
const demo = fileURLToPath(new URL("../../demo/elevation/", import.meta.url));
const strand = { latitude: 56.601, longitude: -9.418 };

/** Requests whose answers do not hang on the present. */
const REQUESTS: readonly (readonly [what: string, path: string, status: number, body?: object])[] = [
  ["the sun", "/v1/sun?latitude=56.601&longitude=-9.418&instant=2027-03-20T18:00:00Z", 200],
  ["light windows behind the ridge", "/v1/light-windows?latitude=56.601&longitude=-9.418&date=2027-03-20", 200],
  ["the skyline", "/v1/horizon?latitude=56.601&longitude=-9.418&stepDeg=1", 200],
  [
    "an evening planned",
    "/v1/outings/plan",
    200,
    { place: strand, date: "2027-03-20", session: "evening", camera: { azimuthDeg: 290 } },
  ],
  ["a picture", "/v1/horizon.svg?latitude=56.601&longitude=-9.418&date=2027-03-20", 200],
  ["a place that is none", "/v1/sun?latitude=91&longitude=0", 400],
  ["a day outside the almanac", "/v1/light-windows?latitude=56.6&longitude=-9.4&date=1899-12-31", 422],
  ["what needs a decoder or tide stations", "/v1/tides?latitude=56.6&longitude=-9.4&date=2027-03-20", 503],
  ["a path that there is not", "/v1/recipes", 404],
];

let folder: string;
let tiles: Server;
let elevation: string;
let reference: TestApp;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), "fieldstop-runtimes-"));
  execFileSync("npx", ["tsup", "--config", "tsup.fetch.ts", "--out-dir", folder], { cwd: api });
  writeFileSync(join(folder, "package.json"), '{ "type": "module" }');
  tiles = createServer((request, response) => {
    readFile(join(demo, (request.url ?? "").replaceAll("/", ""))).then(
      (bytes) => response.writeHead(200, { "Content-Type": "application/octet-stream" }).end(bytes),
      () => response.writeHead(404).end(),
    );
  });
  await new Promise<void>((resolve) => tiles.listen(0, "127.0.0.1", resolve));
  elevation = `http://127.0.0.1:${(tiles.address() as AddressInfo).port}`;
  reference = testApp({ terrain: await createRemoteTerrain({ sources: [elevation] }) });
});
afterAll(() => {
  tiles.close();
  rmSync(folder, { recursive: true, force: true });
});

function send(base: string, path: string, body: object | undefined): Promise<Response> {
  const headers = { "Content-Type": "application/json" };
  return fetch(`${base}${path}`, body && { method: "POST", headers, body: JSON.stringify(body) });
}

async function freePort(): Promise<number> {
  const socket = createSocket();
  await new Promise<void>((resolve) => socket.listen(0, "127.0.0.1", resolve));
  const { port } = socket.address() as AddressInfo;
  await new Promise((resolve) => socket.close(resolve));
  return port;
}

/** The bundle served by a runtime, which is ended afterwards. */
async function served(runtime: Runtime, use: (base: string) => Promise<void>): Promise<void> {
  const port = await freePort();
  const args = runtime.argumentsFor(join(folder, "fetch.js"), port, elevation);
  const env = {
    PATH: process.env["PATH"],
    HOME: folder,
    PORT: String(port),
    HOST: "127.0.0.1",
    FIELDSTOP_ELEVATION: elevation,
  };
  const child = spawn(runtime.binary as string, args, { env, stdio: ["ignore", "pipe", "pipe"] });
  let said = "";
  for (const stream of [child.stdout, child.stderr]) stream.on("data", (chunk) => (said += String(chunk)));
  try {
    const base = `http://127.0.0.1:${port}`;
    await answering(base, child, () => said);
    await use(base);
  } finally {
    const ended = new Promise((resolve) => child.once("exit", resolve));
    if (child.exitCode === null && child.kill("SIGKILL")) await ended;
  }
}

async function answering(base: string, child: ChildProcess, said: () => string): Promise<void> {
  for (let attempt = 0; attempt < 300; attempt++) {
    if (child.exitCode !== null) break;
    const up = await fetch(`${base}/healthz`).then(
      (response) => response.ok,
      () => false,
    );
    if (up) return;
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  throw new Error(`it does not answer; it said: ${said()}`);
}

describe.each(runtimes)("$name", (runtime) => {
  const missing = runtime.binary === undefined;
  const title = missing ? "is skipped: FIELDSTOP_RUNTIMES names no folder that has it" : "answers as every other does";

  it.skipIf(missing && process.env["CI"] === undefined)(title, { timeout: 120_000 }, async () => {
    expect(runtime.binary, "the continuous integration installs every runtime").toBeDefined();
    let compared = 0;
    await served(runtime, async (base) => {
      for (const [what, path, status, body] of REQUESTS) {
        const expected = await (await reference.request(...requestOf(path, body))).text();
        const response = await send(base, path, body);
        expect(response.status, what).toBe(status);
        expect(await response.text(), what).toBe(expected);
        if (what.includes("ridge")) expect(JSON.parse(expected).horizon.kind).toBe("terrain");
        compared++;
      }
    });
    expect(compared).toBe(REQUESTS.length);
  });
});

function requestOf(path: string, body: object | undefined): [string, RequestInit?] {
  if (body === undefined) return [path];
  const headers = { "Content-Type": "application/json" };
  return [path, { method: "POST", headers, body: JSON.stringify(body) }];
}
