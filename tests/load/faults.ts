import { spawnSync } from "node:child_process";
import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, statSync, writeFileSync } from "node:fs";
import { createServer, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { setTimeout as delay } from "node:timers/promises";
import { fileURLToPath } from "node:url";
import { WorkerPool } from "@fieldstop/api/workers/worker-pool";
import { type AlignmentsInput, alignments } from "@fieldstop/operations";
import { createFieldstop, isProblem } from "@fieldstop/sdk";
import { Program } from "./programs";
import { ServiceProcess } from "./service";
import { type LoadFigures, type Question, underLoad } from "./under-load";

/** What a fault did: figures in words, and what should not have been. */
export interface FaultOutcome {
  readonly figures: string;
  readonly faults: readonly string[];
}

type Fieldstop = ReturnType<typeof createFieldstop>;

const place = { latitude: 56.6, longitude: -9.4 };
const evening = {
  place,
  date: "2027-03-20",
  session: "evening" as const,
  camera: { sensor: "full-frame" as const, focalLengthMm: 24, aperture: 11, iso: 100, azimuthDeg: 290 },
};

/** A mix that needs terrain at ever new places, and some that needs none. */
const questionsOf =
  (fieldstop: Fieldstop) =>
  (turn: number): Question => {
    const n = turn % 240;
    const longitude = -9.45 + (n % 60) / 600;
    switch (Math.floor(n / 60)) {
      case 0:
        return {
          name: `horizon ${n}`,
          ask: () => fieldstop.horizon.getHorizon({ latitude: 56.61, longitude, stepDeg: 1 }),
        };
      case 1:
        return {
          name: `windows ${n}`,
          ask: () => fieldstop.light.findLightWindows({ ...place, longitude, date: "2027-03-20" }),
        };
      case 2:
        return { name: "plan", ask: () => fieldstop.outings.planOuting(evening) };
      default:
        return {
          name: `sun ${n}`,
          ask: () => fieldstop.sky.getSunPosition({ latitude: 56, longitude, instant: "2027-03-20T17:00:00Z" }),
        };
    }
  };

function told(load: LoadFigures, more = ""): FaultOutcome {
  const { answered, failures, wrong, slowestMs } = load;
  return {
    figures: `${answered} calls of the SDK, ${failures.length} failed, ${wrong.length} answered otherwise, slowest ${Math.round(slowestMs)} ms${more}`,
    faults: [...failures.slice(0, 5), ...wrong.slice(0, 5).map((name) => `another answer to ${name}`)],
  };
}

const start = (environment: Record<string, string>) => ServiceProcess.start(environment);

async function redisAway(): Promise<FaultOutcome> {
  const redis = await Program.redis();
  const service = await start({ FIELDSTOP_REDIS_URL: `redis://127.0.0.1:${redis.address.port}` });
  try {
    const load = await underLoad(questionsOf(createFieldstop({ baseUrl: service.baseUrl })), async () => {
      await delay(1500);
      await redis.kill();
      await delay(2000);
      await redis.restart();
      await delay(2000);
    });
    return told(load);
  } finally {
    await service.stop();
    await redis.remove();
  }
}

async function replicaKilled(): Promise<FaultOutcome> {
  const redis = await Program.redis();
  const environment = { FIELDSTOP_REDIS_URL: `redis://127.0.0.1:${redis.address.port}` };
  const replicas = [await start(environment), await start(environment)];
  const balancer = await Program.nginx(replicas.map(({ address }) => address));
  const baseUrl = `http://127.0.0.1:${balancer.address.port}`;
  try {
    const load = await underLoad(questionsOf(createFieldstop({ baseUrl })), async () => {
      for (const i of [0, 1]) {
        await delay(1500);
        const victim = replicas[i] as ServiceProcess;
        await victim.stop("SIGKILL");
        await delay(2500);
        replicas[i] = await start({ ...environment, PORT: String(victim.address.port) });
        // the balancer looks again at one that it passed over
        await delay(1500);
      }
    });
    return told(load, ", two processes killed");
  } finally {
    await Promise.all([...replicas.map((one) => one.stop("SIGKILL")), balancer.remove(), redis.remove()]);
  }
}

async function workersCrash(): Promise<FaultOutcome> {
  const search = (year: number): AlignmentsInput["request"] => ({
    place,
    timeZone: "Europe/London",
    body: "moon",
    target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
    from: `${year}-01-01`,
    to: `${year + 1}-12-31`,
  });
  let crashes = 0;
  const log = { warn: () => {}, error: () => void crashes++ };
  const pool = new WorkerPool({ threads: 2, log });
  try {
    const years = Array.from({ length: 24 }, (_, i) => 2000 + 2 * i);
    const running = years.map((year) => pool.run("alignmentsJson", { request: search(year), assumptions: [] }));
    for (let i = 0; i < 3; i++) {
      await delay(150);
      await pool.threads[0]?.terminate();
    }
    const found = await Promise.allSettled(running);
    const faults = found.flatMap((one, i) => {
      if (one.status === "rejected") return [`${years[i]}: ${one.reason}`];
      const expected = alignments({ request: search(years[i] as number), assumptions: [] });
      return one.value === JSON.stringify(expected) ? [] : [`${years[i]}: another answer`];
    });
    return { figures: `${years.length} long jobs, ${crashes} crashes, ${faults.length} jobs lost or wrong`, faults };
  } finally {
    await pool.close();
  }
}

type Mood = "well" | "slow" | "errors" | "lies" | "cut short" | "a web page";

/** The demo's tiles over HTTP, from a server whose mood changes. */
class ElevationServer {
  mood: Mood = "well";
  readonly #server = createServer((request, response) => void this.#answer(request.url ?? "", response));

  async #answer(path: string, response: ServerResponse): Promise<void> {
    const file = path.replace(/^\//, "");
    const folder = fileURLToPath(new URL("../../demo/elevation", import.meta.url));
    if (!readdirSync(folder).includes(file)) return void response.writeHead(404).end();
    const bytes = readFileSync(join(folder, file));
    switch (this.mood) {
      case "errors":
        return void response.writeHead(500).end();
      case "a web page":
        return void response.writeHead(200, { "Content-Type": "text/html" }).end("<h1>Sign in</h1>");
      case "lies":
        return void response.writeHead(200).end(Buffer.from(bytes.map((byte, i) => (i > 200 ? byte ^ 0x55 : byte))));
      case "cut short":
        response.writeHead(200, { "Content-Length": bytes.length }).write(bytes.subarray(0, bytes.length / 2));
        await delay(50);
        return void response.destroy();
      case "slow":
        await delay(3000);
    }
    response.writeHead(200, { "Content-Type": "application/zip", "Content-Length": bytes.length }).end(bytes);
  }

  async listen(): Promise<string> {
    await new Promise<void>((resolve) => this.#server.listen(0, "127.0.0.1", resolve));
    return `http://127.0.0.1:${(this.#server.address() as AddressInfo).port}`;
  }

  close(): void {
    this.#server.closeAllConnections();
    this.#server.close();
  }
}

async function elevationServerFails(): Promise<FaultOutcome> {
  const server = new ElevationServer();
  const url = await server.listen();
  const faults: string[] = [];
  const lines: string[] = [];
  const ask = async (service: ServiceProcess) => {
    // what is refused is judged, not asked for again
    const fieldstop = createFieldstop({ baseUrl: service.baseUrl, retry: false, timeoutMs: 60_000 });
    const horizon = fieldstop.horizon.getHorizon({ ...place, stepDeg: 1 });
    let slowestMs = 0;
    let waiting = true;
    void horizon.then(
      () => (waiting = false),
      () => (waiting = false),
    );
    while (waiting) {
      const askedAt = performance.now();
      await fieldstop.sky.getSunPosition({ ...place, instant: "2027-03-20T17:00:00Z" });
      slowestMs = Math.max(slowestMs, performance.now() - askedAt);
      await delay(5);
    }
    return { horizon, slowestMs };
  };
  try {
    let expected = "";
    for (const mood of ["well", "slow", "errors", "lies", "cut short", "a web page"] satisfies Mood[]) {
      server.mood = mood;
      const service = await start({ FIELDSTOP_ELEVATION: url });
      const { horizon, slowestMs } = await ask(service);
      const outcome = await horizon.then(
        (found) => JSON.stringify(found),
        (error) =>
          isProblem(error) && error.status === 503 && error.retryAfterSeconds !== undefined ? "503" : String(error),
      );
      if (mood === "well") expected = outcome;
      const right = outcome === expected;
      if (!right && outcome !== "503") faults.push(`${mood}: ${outcome.slice(0, 300)}`);
      if (mood === "slow" && !right) faults.push(`slow: ${outcome.slice(0, 300)}`);
      lines.push(
        `${mood}: ${right ? "the right skyline" : "503 with Retry-After"}, others at most ${Math.round(slowestMs)} ms`,
      );
      if (mood !== "well") {
        server.mood = "well";
        // it knows of the tile that it could not have, and looks again
        const again = await ask(service).then((asked) => asked.horizon.then((found) => JSON.stringify(found), String));
        if (again !== expected) faults.push(`${mood}, then well: ${again.slice(0, 300)}`);
      }
      await service.stop();
    }
  } finally {
    server.close();
  }
  return { figures: lines.join("; "), faults };
}

async function cacheFails(): Promise<FaultOutcome> {
  const server = new ElevationServer();
  const FIELDSTOP_ELEVATION = await server.listen();
  const scratch = mkdtempSync(join(tmpdir(), "fieldstop-load-"));
  const faults: string[] = [];
  const lines: string[] = [];
  const horizonWith = async (folder: string): Promise<string> => {
    const service = await start({ FIELDSTOP_ELEVATION, FIELDSTOP_CACHE_DIR: folder, FIELDSTOP_CACHE_MB: "200" });
    const fieldstop = createFieldstop({ baseUrl: service.baseUrl, timeoutMs: 30_000 });
    const found = await fieldstop.horizon.getHorizon({ ...place, stepDeg: 1 }).then(JSON.stringify, String);
    // what is kept is written after the answer
    await delay(700);
    await service.stop();
    return found;
  };
  const hold = (name: string, found: string): void => {
    const right = found === expected;
    lines.push(`${name}: ${right ? "the right skyline" : "wrong"}`);
    if (!right) faults.push(`${name}: ${found.slice(0, 300)}`);
  };
  const good = join(scratch, "good");
  const expected = await horizonWith(good);
  try {
    const full = join(scratch, "full");
    mkdirSync(full);
    if (spawnSync("mount", ["-t", "tmpfs", "-o", "size=64k", "none", full]).status === 0) {
      hold("full", await horizonWith(full));
      spawnSync("umount", [full]);
    } else lines.push("full: not tried, no right to mount");
    writeFileSync(join(scratch, "file"), "");
    hold("not a folder", await horizonWith(join(scratch, "file", "cache")));
    hold("read-only", await horizonWith("/proc/fieldstop"));
    const entries = readdirSync(good, { recursive: true, encoding: "utf8" }).map((name) => join(good, name));
    const files = entries.filter((path) => statSync(path).isFile());
    for (const path of files) {
      const bytes = readFileSync(path);
      for (let i = Math.min(100, bytes.length >> 1); i < bytes.length; i += 1000)
        bytes[i] = (bytes[i] as number) ^ 0xff;
      writeFileSync(path, bytes);
    }
    hold(`${files.length} files damaged`, await horizonWith(good));
    for (const path of files.filter((file) => statSync(file, { throwIfNoEntry: false }) !== undefined)) {
      writeFileSync(path, readFileSync(path).subarray(0, 50));
    }
    hold("files cut short", await horizonWith(good));
    if (!expected.startsWith("{")) faults.push(expected.slice(0, 300));
  } finally {
    server.close();
    rmSync(scratch, { recursive: true, force: true });
  }
  return { figures: lines.join("; "), faults };
}

/** Each fault by what goes wrong. */
export const FAULTS: Readonly<Record<string, () => Promise<FaultOutcome>>> = {
  "Redis killed and back": redisAway,
  "process killed -9, a second replica": replicaKilled,
  "worker threads crash": workersCrash,
  "elevation server fails": elevationServerFails,
  "cache folder fails": cacheFails,
};
