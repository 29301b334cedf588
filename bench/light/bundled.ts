import { spawnSync } from "node:child_process";
import { mkdtempSync, rmSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { build } from "esbuild";

/**
 * Runs a program beside this file as packages are shipped: bundled, in a process of its own. The loader that runs TypeScript as it stands gives every
 * function its name anew each time it is made, which is a third of the time of a day's light.
 */
export async function runBundled(file: string): Promise<void> {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-bench-"));
  try {
    const outfile = join(folder, "program.mjs");
    await build({
      entryPoints: [fileURLToPath(new URL(file, import.meta.url))],
      outfile,
      bundle: true,
      platform: "node",
      format: "esm",
      conditions: ["fieldstop-source"],
      logLevel: "error",
    });
    const { status } = spawnSync(process.execPath, [outfile], { stdio: "inherit" });
    if (status !== 0) process.exitCode = 1;
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}
