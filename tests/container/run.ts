import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { freePort } from "../load/service";
import { Engine } from "./engine";

// The image itself: built from the container file, run as docs/self-hosting.md says, looked into and stopped. Skipped where nothing runs
// images. IMAGE_BUILD_OPTIONS are handed to the build, for a network that needs words of its own.

const root = fileURLToPath(new URL("../../", import.meta.url));
const base = /^FROM (\S+)/m.exec(readFileSync(`${root}Containerfile`, "utf8"))?.[1] as string;
const trial = `fieldstop-trial-${process.pid}`;

const engine = Engine.find();
if (engine === undefined) skip("neither docker nor podman answers here");
else if (!engine.has(base)) skip(`${base} is not here and cannot be fetched`);
else await tryOut(engine);

function skip(why: string): void {
  console.log(`image: skipped, ${why}`);
}

async function tryOut(engine: Engine): Promise<void> {
  const inside = (...command: readonly string[]) => engine.try("exec", trial, ...command);
  try {
    engine.build(root, trial, process.env["IMAGE_BUILD_OPTIONS"]?.split(" ") ?? []);
    const port = await freePort();
    const rights = ["--read-only", "--tmpfs", "/tmp", "--cap-drop", "ALL", "--security-opt", "no-new-privileges"];
    const reached = ["-p", `127.0.0.1:${port}:8787`, "-v", `${trial}:/var/cache/fieldstop`];
    engine.say("run", "-d", "--init", "--name", trial, ...rights, ...reached, trial);
    const base = `http://127.0.0.1:${port}`;
    await answering(base);

    assert.equal(inside("id", "-u").stdout.trim(), "1000", "the user");
    assert.match(inside("grep", "CapEff", "/proc/self/status").stdout, /\t0+\n/, "its rights");
    assert.notEqual(inside("touch", "/app/written").status, 0, "the image's own files can be written to");
    const [, ...health] = JSON.parse(engine.say("image", "inspect", "-f", "{{json .Config.Healthcheck.Test}}", trial));
    assert.equal(inside(...health).status, 0, "the health check");

    for (const path of [
      "/docs",
      "/v1/tide-stations?latitude=54&longitude=-8",
      "/v1/horizon.svg?latitude=56.6&longitude=-9.4&date=2027-03-20",
    ]) {
      assert.equal((await fetch(base + path)).status, 200, path);
    }
    const kept = () => inside("find", "/var/cache/fieldstop", "-type", "f").stdout;
    for (let tries = 0; kept() === ""; tries++) {
      assert.ok(tries < 50, "nothing is kept in the volume");
      await new Promise((resolve) => setTimeout(resolve, 100));
    }

    const ours = inside("find", "/app", "-path", "/app/node_modules", "-prune", "-o", "-type", "f", "-print").stdout;
    assert.deepEqual(ours.match(/\S+\.(ts|map|md)$|\/tests?\/\S+/gm), null, "sources or tests are in it");
    const tools = inside("ls", "/app/node_modules").stdout.split("\n");
    for (const name of ["typescript", "vitest", "tsup", "esbuild"])
      assert.ok(!tools.includes(name), `${name} is in it`);

    const search = {
      place: { latitude: 56.6, longitude: -9.4 },
      body: "moon",
      target: { kind: "direction", azimuthDeg: 286, altitudeDeg: 3 },
      from: "2027-01-01",
      to: "2044-12-31",
    };
    const taken = fetch(`${base}/v1/alignments`, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: JSON.stringify(search),
    });
    await new Promise((resolve) => setTimeout(resolve, 200));
    const stopping = spawn(engine.name, ["stop", "-t", "40", trial], { stdio: "ignore" });
    const stopped = new Promise((resolve) => stopping.once("exit", resolve));
    const answer = await taken;
    assert.equal(answer.status, 200, "what was taken before the stop");
    await answer.json();
    await stopped;
    assert.equal(engine.say("inspect", "-f", "{{.State.ExitCode}}", trial), "0", "how it ended");

    const bytes = Number(engine.say("image", "inspect", "-f", "{{.Size}}", trial));
    console.log(`image: built and run by ${engine.name}, ${Math.round(bytes / 1e6)} MB`);
  } finally {
    engine.try("rm", "-f", trial);
    engine.try("volume", "rm", trial);
    engine.try("rmi", trial);
  }
}

async function answering(base: string): Promise<void> {
  const healthy = () =>
    fetch(`${base}/healthz`).then(
      ({ ok }) => ok,
      () => false,
    );
  for (const until = Date.now() + 20_000; !(await healthy()); ) {
    if (Date.now() > until) throw new Error("it does not answer");
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}
