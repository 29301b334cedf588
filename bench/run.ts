import { spawnSync } from "node:child_process";
import { readdirSync } from "node:fs";
import { basename } from "node:path";
import { fileURLToPath } from "node:url";

// Every benchmark in this folder, one after another, each in a process of its own so that none warms up or slows the next.
// `npm run bench` runs them all, `npm run bench -- horizon sun` those of these names. What benchmarks share lives in a folder.

const folder = fileURLToPath(new URL(".", import.meta.url));
const tsx = fileURLToPath(import.meta.resolve("tsx/cli"));

const all = readdirSync(folder)
  .filter((file) => file.endsWith(".ts") && file !== basename(import.meta.filename))
  .map((file) => basename(file, ".ts"))
  .sort();
const asked = process.argv.slice(2);
const unknown = asked.filter((name) => !all.includes(name));
if (unknown.length > 0) {
  console.error(`No benchmark named ${unknown.join(", ")}. There are: ${all.join(", ") || "none"}.`);
  process.exit(1);
}

const failed: string[] = [];
for (const name of asked.length > 0 ? asked : all) {
  console.log(`\n# ${name}\n`);
  const { status, error } = spawnSync(process.execPath, [tsx, "--conditions=fieldstop-source", `${folder}${name}.ts`], {
    stdio: "inherit",
  });
  if (error !== undefined) console.error(error.message);
  if (status !== 0) failed.push(name);
}

if (failed.length > 0) {
  console.error(`\nFailed: ${failed.join(", ")}.`);
  process.exitCode = 1;
}
