import { spawn, spawnSync } from "node:child_process";
import { once } from "node:events";
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, statSync } from "node:fs";
import { tmpdir } from "node:os";
import { basename, dirname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { type Copy, DockerfileParser } from "dockerfile-ast";
import { freePort } from "../load/service";

// Carries out the container file without a container: each stage in a folder of its own, each COPY a copy, each npm step run; then
// starts what its CMD says and asks for its health. Run by the Node that the image has: `node --import tsx tests/scale/container-steps.ts`.

const root = fileURLToPath(new URL("../..", import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), "fieldstop-container-"));
const stages = new Map<string, string>();
const environment: Record<string, string | undefined> = {
  ...process.env,
  PATH: `${dirname(process.execPath)}:${process.env["PATH"]}`,
};
let stage = "";
let workdir = "/";
let command: string[] = [];

const within = (folder: string, path: string): string =>
  join(folder, normalize(join(path.startsWith("/") ? "/" : workdir, path)));

function copy(from: string | undefined, source: string, target: string): void {
  const into = within(stage, target);
  if (from === undefined) {
    // what is not committed or ignored is not in the image either
    const files = spawnSync("git", ["ls-files", "-co", "--exclude-standard"], {
      cwd: root,
      encoding: "utf8",
    }).stdout.split("\n");
    const left = /^(\.git|\.ci|tests|bench)\b/;
    for (const file of files.filter((name) => name !== "" && !left.test(name))) {
      cpSync(join(root, file), join(into, file), { recursive: true });
    }
    return;
  }
  const origin = within(stages.get(from) as string, source);
  const named = target.endsWith("/") && statSync(origin).isFile();
  cpSync(origin, named ? join(into, basename(source)) : into, {
    recursive: true,
    verbatimSymlinks: true,
  });
}

try {
  for (const instruction of DockerfileParser.parse(readFileSync(`${root}Containerfile`, "utf8")).getInstructions()) {
    const args = instruction.getArguments().map((argument) => argument.getValue());
    const text = instruction.getArgumentsContent() ?? "";
    switch (instruction.getKeyword()) {
      case "FROM":
        stage = mkdtempSync(join(scratch, "stage-"));
        stages.set(args[2] ?? "last", stage);
        workdir = "/";
        break;
      case "WORKDIR":
        workdir = args[0] as string;
        mkdirSync(within(stage, "."), { recursive: true });
        break;
      case "ENV":
        for (const [, name, value] of text.matchAll(/(\w+)=(\S+)/g)) environment[name as string] = value as string;
        break;
      case "COPY":
        copy((instruction as Copy).getFromFlag()?.getValue() ?? undefined, args[0] as string, args[1] as string);
        break;
      case "RUN":
        // the rest needs the image's own users
        if (!text.startsWith("npm ")) break;
        console.log(`RUN ${text}`);
        if (
          spawnSync(text, { cwd: within(stage, "."), env: environment, shell: true, stdio: "inherit" }).status !== 0
        ) {
          throw new Error(`${text} failed`);
        }
        break;
      case "CMD":
        command = JSON.parse(text) as string[];
        break;
    }
  }
  const port = await freePort();
  const env = { ...environment, HOST: "127.0.0.1", PORT: String(port), FIELDSTOP_CACHE_DIR: join(scratch, "cache") };
  const service = spawn(process.execPath, command.slice(1), {
    cwd: within(stage, "."),
    env,
    stdio: ["ignore", "ignore", "inherit"],
  });
  const gone = once(service, "exit") as Promise<[number | null]>;
  const ask = (path: string) =>
    fetch(`http://127.0.0.1:${port}${path}`).then(
      (response) => response.status,
      () => 0,
    );
  for (const until = Date.now() + 20_000; (await ask("/healthz")) !== 200; ) {
    if (service.exitCode !== null || Date.now() > until) throw new Error("the service does not start");
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
  // terrain, tides, pictures and the worker threads are all there
  for (const path of [
    "/v1/horizon?latitude=56.6&longitude=-9.4",
    "/v1/horizon.svg?latitude=56.6&longitude=-9.4&date=2027-03-20",
    "/v1/tide-stations?latitude=54&longitude=-8",
    "/docs",
  ]) {
    const status = await ask(path);
    console.log(`${status} ${path}`);
    if (status !== 200) throw new Error(`${path} answers ${status}`);
  }
  service.kill("SIGTERM");
  const [code] = await gone;
  if (code !== 0) throw new Error(`SIGTERM ended it with ${code}`);
  console.log(`the container file's steps hold on Node ${process.versions.node}`);
} finally {
  rmSync(scratch, { recursive: true, force: true });
}
