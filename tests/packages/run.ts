import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";
import { chromium } from "playwright-core";
import { testApp } from "../api/harness";
import { startServer } from "../sdk/server";

// A stranger's project that knows the packages by their tarballs alone: compiled and run as ESM, CJS, bundle and page.
// Run it after `npm run build`.

const root = fileURLToPath(new URL("../../", import.meta.url));
const folder = mkdtempSync(join(tmpdir(), "fieldstop-consumer-"));
const tarballs = join(folder, "tarballs");
const expected = { shutter: "1/30 s", alike: "true", refused: "query:latitude" };
const inFolder = (command: string, ...args: string[]) =>
  execFileSync(command, args, { cwd: folder, encoding: "utf8", stdio: ["ignore", "pipe", "inherit"] });

const done: string[] = [];
function shown(what: string, result: unknown): void {
  assert.deepEqual(result, expected, what);
  done.push(what);
}

const server = await startServer(testApp());
try {
  install();
  typesHold();
  await runs();
  await bundles();
  console.log(`consumer: ${done.join(", ")}`);
} finally {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
}

function install(): void {
  mkdirSync(tarballs);
  for (const name of ["core", "operations", "sdk"]) {
    execFileSync("npm", ["pack", "--silent", "--pack-destination", tarballs], { cwd: join(root, "packages", name) });
  }
  cpSync(fileURLToPath(new URL("project", import.meta.url)), folder, { recursive: true });
  const packed = readdirSync(tarballs).map((file) => join(tarballs, file));
  inFolder("npm", "install", "--silent", "--no-audit", "--no-fund", ...packed);
}

/** The same program under each way in which compilers look for packages; as ES module and as CommonJS. */
function typesHold(): void {
  const tsc = join(root, "node_modules/typescript/bin/tsc");
  cpSync(join(folder, "use.ts"), join(folder, "use-cjs.cts"));
  for (const [module, resolution] of [
    ["node16", "node16"],
    ["nodenext", "nodenext"],
    ["esnext", "bundler"],
  ] as const) {
    const files = resolution === "bundler" ? ["use.ts"] : ["use.ts", "use-cjs.cts"];
    const flags = ["--strict", "--target", "es2022", "--lib", "es2023,dom,dom.iterable"];
    const where = ["--module", module, "--moduleResolution", resolution, "--outDir", `out-${resolution}`];
    inFolder(process.execPath, tsc, ...flags, ...where, ...files);
    done.push(`types under ${resolution}`);
  }
}

async function runs(): Promise<void> {
  for (const [what, file] of [
    ["ESM", "./out-nodenext/use.js"],
    ["CJS", "./out-nodenext/use-cjs.cjs"],
  ] as const) {
    const script = `import { use } from ${JSON.stringify(file)}; console.log(JSON.stringify(await use(${JSON.stringify(server.baseUrl)})));`;
    writeFileSync(join(folder, "run.mjs"), script);
    // not in step with this process, which serves the answers
    const { execFile } = await import("node:child_process");
    const said = await new Promise<string>((resolve, reject) => {
      execFile(process.execPath, ["run.mjs"], { cwd: folder }, (error, out) => (error ? reject(error) : resolve(out)));
    });
    shown(what, JSON.parse(said));
  }
}

async function bundles(): Promise<void> {
  await build({
    entryPoints: [join(folder, "use.ts")],
    bundle: true,
    minify: true,
    format: "esm",
    platform: "browser",
    target: "es2022",
    outfile: join(folder, "bundle.js"),
    logLevel: "error",
  });
  const bundle = (await import(join(folder, "bundle.js"))) as typeof import("./project/use");
  shown("bundle", await bundle.use(server.baseUrl));
  const executablePath = ["/usr/bin/chromium", "/usr/bin/chromium-browser"].find((path) => existsSync(path));
  if (executablePath === undefined) {
    assert.equal(process.env["CI"], undefined, "the continuous integration has Chromium");
    console.log("the browser is skipped: there is no Chromium here");
    return;
  }
  const browser = await chromium.launch({ executablePath, args: ["--no-sandbox", "--disable-gpu"] });
  try {
    // the service's own pages run no foreign script; its origin is wanted here, since calls from others are a matter of its settings
    const page = await browser.newPage({ bypassCSP: true });
    await page.goto(`${server.baseUrl}/healthz`);
    const source = readFileSync(join(folder, "bundle.js"), "utf8");
    const result = await page.evaluate(
      async ([code, baseUrl]) => {
        const url = URL.createObjectURL(new Blob([code as string], { type: "text/javascript" }));
        const module = await import(/* @vite-ignore */ url);
        return module.use(baseUrl) as Promise<unknown>;
      },
      [source, server.baseUrl],
    );
    shown("Chromium", result);
  } finally {
    await browser.close();
  }
}
