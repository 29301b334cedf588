import { rmSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { build } from "tsup";

const app = fileURLToPath(new URL("../../../apps/nightly/", import.meta.url));

let bundled: Promise<string> | undefined;

/** The command bundled from the source as it is, once for a test file: a hundred starts of it cost little, then. */
export function bundledCommand(): Promise<string> {
  bundled ??= bundle();
  return bundled;
}

async function bundle(): Promise<string> {
  // beside its own packages, so that it finds them
  const outDir = `${app}.cache/${process.pid}`;
  await build({
    entry: [`${app}src/main.ts`],
    format: "esm",
    target: "node20",
    outDir,
    config: false,
    silent: true,
    skipNodeModulesBundle: true,
    noExternal: [/^@fieldstop\//],
    esbuildOptions: (options) => {
      options.conditions = ["fieldstop-source"];
    },
  });
  process.once("exit", () => rmSync(outDir, { recursive: true, force: true }));
  return `${outDir}/main.js`;
}
