import { type ChildProcess, spawn, spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createServer } from "node:http";
import { connect } from "node:net";
import { median } from "../tests/median";

/**
 * What the service costs over bare node:http that serves the same bytes: a GET that was kept, and a POST that is parsed, validated, computed and
 * written out, its body another one each time, both with every policy on. In alternating pairs in one run, the load from this process. The ratio is of
 * processor time for each request where the system tells it, and of requests a second otherwise.
 */
const BARE_PORT = Number(process.env["BENCH_PORT"] ?? 21_290);
const PORT = BARE_PORT + 1;
const CONNECTIONS = 32;
const ROUNDS = Number(process.env["BENCH_ROUNDS"] ?? 6);
const ROUND_MS = Number(process.env["BENCH_ROUND_MS"] ?? 1500);
const HOST = "127.0.0.1";

interface Ask {
  readonly method: string;
  readonly path: string;
  /** Sent in turn; none for a GET. */
  readonly bodies: readonly string[];
}

const GET: Ask = {
  method: "GET",
  path: "/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T18:00:00Z",
  bodies: [],
};
const APERTURES = [5.6, 8, 11, 16];
const POST: Ask = {
  method: "POST",
  path: "/v1/brackets/plan",
  bodies: Array.from({ length: 16 }, (_, i) =>
    JSON.stringify({
      shadowEv100: -1,
      highlightEv100: 17,
      stepStops: 1,
      counts: "any",
      camera: {
        sensor: "full-frame",
        focalLengthMm: 24,
        aperture: APERTURES[i % 4],
        iso: 100 * 2 ** (i >> 2),
        azimuthDeg: 290,
        dynamicRangeStops: 8,
      },
    }),
  ),
};

if (process.argv[2] === "bare") serveBare(process.argv[3] as string);
else await measure();

/** Reads a body as JSON where there is one, and answers the same bytes: written out from a value for each POST, as a handler must. */
function serveBare(answers: string): void {
  const { get, posts } = JSON.parse(Buffer.from(answers, "base64").toString()) as { get: string; posts: string[] };
  const kept = Buffer.from(get);
  const values = posts.map((post): unknown => JSON.parse(post));
  let count = 0;
  const headers = (length: number) => ({ "Content-Type": "application/json", "Content-Length": length });
  createServer((request, response) => {
    if (request.method === "GET") {
      response.writeHead(200, headers(kept.length)).end(kept);
      return;
    }
    const chunks: Buffer[] = [];
    request.on("data", (chunk: Buffer) => chunks.push(chunk));
    request.on("end", () => {
      JSON.parse(Buffer.concat(chunks).toString());
      const text = JSON.stringify(values[count++ % values.length]);
      response.writeHead(200, headers(Buffer.byteLength(text))).end(text);
    });
  }).listen(BARE_PORT, HOST);
}

async function measure(): Promise<void> {
  spawnSync("npm", ["run", "--silent", "build", "-w", "@fieldstop/api"], { stdio: "inherit" });
  const environment = { ...process.env, PORT: String(PORT), HOST, FIELDSTOP_RATE_LIMIT: "1000000" };
  const ours = spawn(process.execPath, ["apps/api/dist/main.js"], { env: environment, stdio: "ignore" });
  let bare: ChildProcess | undefined;
  try {
    await until(PORT);
    const [get, posts] = [await textOf(GET), await Promise.all(POST.bodies.map((body) => textOf(POST, body)))];
    const answers = JSON.stringify({ get, posts });
    console.log(`GET: ${get.length} B out. POST: ${meanLength(POST.bodies)} B in, ${meanLength(posts)} B out.`);
    const bareArguments = [...process.execArgv, import.meta.filename, "bare", Buffer.from(answers).toString("base64")];
    bare = spawn(process.execPath, bareArguments, { stdio: "inherit" });
    await until(BARE_PORT);
    const rows: Record<string, Record<string, string>> = {};
    for (const [name, ask] of [["GET, kept", GET] as const, ["POST, validated", POST] as const]) {
      for (const port of [BARE_PORT, PORT]) await load(port, ask, ROUND_MS);
      rows[name] = await pairs(ask, bare.pid as number, ours.pid as number);
    }
    console.log(`Node ${process.version}, ${CONNECTIONS} connections, ${ROUNDS} pairs of ${ROUND_MS} ms`);
    console.table(rows);
  } finally {
    ours.kill();
    bare?.kill();
  }
}

function meanLength(texts: readonly string[]): number {
  return Math.round(texts.reduce((sum, text) => sum + text.length, 0) / texts.length);
}

async function pairs(ask: Ask, bare: number, ours: number): Promise<Record<string, string>> {
  const rates: number[] = [];
  const costs: number[] = [];
  let last = { bare: 0, ours: 0 };
  for (let round = 0; round < ROUNDS; round++) {
    const first = await costOf(BARE_PORT, bare, ask);
    const second = await costOf(PORT, ours, ask);
    rates.push(second.perSecond / first.perSecond);
    costs.push(first.cpuUs / second.cpuUs);
    last = { bare: first.cpuUs, ours: second.cpuUs };
  }
  return {
    "of bare, by processor time": median(costs).toFixed(2),
    "of bare, by rate": median(rates).toFixed(2),
    "bare [µs]": last.bare.toFixed(1),
    "service [µs]": last.ours.toFixed(1),
  };
}

async function costOf(port: number, pid: number, ask: Ask): Promise<{ perSecond: number; cpuUs: number }> {
  const before = cpuMs(pid);
  const count = await load(port, ask, ROUND_MS);
  return { perSecond: (1000 * count) / ROUND_MS, cpuUs: (1000 * (cpuMs(pid) - before)) / count };
}

/** Processor time of a process until now [ms], in steps of 10; not a number where the system does not tell. */
function cpuMs(pid: number): number {
  try {
    const stat = readFileSync(`/proc/${pid}/stat`, "utf8");
    const [user, system] = stat
      .slice(stat.lastIndexOf(")") + 2)
      .split(" ")
      .slice(11, 13)
      .map(Number) as [number, number];
    return 10 * (user + system);
  } catch {
    return Number.NaN;
  }
}

/**
 * Asks over and over on open connections; how many answers came. An answer other than 200 ends the benchmark. It never sleeps: else whoever answers
 * slowly finds it asleep, and pays for waking it with each answer, where whoever answers fast does not.
 */
function load(port: number, { method, path, bodies }: Ask, durationMs: number): Promise<number> {
  const line = `${method} ${path} HTTP/1.1\r\nHost: ${HOST}:${port}\r\n`;
  const withBody = (body: string) =>
    Buffer.from(`${line}Content-Type: application/json\r\nContent-Length: ${body.length}\r\n\r\n${body}`);
  const requests = bodies.length === 0 ? [Buffer.from(`${line}\r\n`)] : bodies.map(withBody);
  let sent = 0;
  const next = (): Buffer => requests[sent++ % requests.length] as Buffer;
  const end = performance.now() + durationMs;
  let count = 0;
  const connection = () =>
    new Promise<void>((resolve, reject) => {
      const socket = connect(port, HOST, () => socket.write(next()));
      let missing = -1;
      let text = "";
      socket.on("data", (chunk) => {
        if (missing < 0) {
          text += chunk.toString("latin1");
          const split = text.indexOf("\r\n\r\n");
          if (split < 0) return;
          if (!text.startsWith("HTTP/1.1 200 ")) return reject(new Error(text.slice(0, 300)));
          missing = Number(/content-length: (\d+)/i.exec(text)?.[1]) - (text.length - split - 4);
          text = "";
        } else missing -= chunk.length;
        if (missing > 0) return;
        missing = -1;
        count++;
        if (performance.now() < end) socket.write(next());
        else socket.end(() => resolve());
      });
      socket.on("error", reject);
    });
  const stayAwake = (): void => {
    if (performance.now() < end) setImmediate(stayAwake);
  };
  stayAwake();
  return Promise.all(Array.from({ length: CONNECTIONS }, connection)).then(() => count);
}

async function textOf({ method, path }: Ask, body?: string): Promise<string> {
  const init = body === undefined ? {} : { method, body, headers: { "Content-Type": "application/json" } };
  const response = await fetch(`http://${HOST}:${PORT}${path}`, init);
  if (response.status !== 200) throw new Error(`${path}: ${await response.text()}`);
  return response.text();
}

async function until(port: number): Promise<void> {
  for (let i = 0; i < 200; i++) {
    const answers = await fetch(`http://${HOST}:${port}/healthz`, { method: "GET" }).then(
      () => true,
      () => false,
    );
    if (answers) return;
    await new Promise((resolve) => setTimeout(resolve, 50));
  }
  throw new Error(`nothing answers at ${port}`);
}
