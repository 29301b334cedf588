import { execFileSync } from "node:child_process";
import { existsSync, readdirSync, statSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";

const root = fileURLToPath(new URL("..", import.meta.url));
const BUILT = ["apps/api/dist/main.js", "apps/nightly/dist/main.js"];

/** Build the programs that tests start as processes of their own, unless what is built is newer than every source. */
export default function build(): void {
  const sources = ["packages", "apps"].flatMap((folder) =>
    readdirSync(join(root, folder)).map((name) => join(root, folder, name, "src")),
  );
  const changedMs = Math.max(...sources.map(lastChangeMs));
  if (BUILT.every((file) => existsSync(join(root, file)) && statSync(join(root, file)).mtimeMs > changedMs)) return;
  execFileSync("npm", ["run", "--silent", "build", "-w", "@fieldstop/api", "-w", "@fieldstop/nightly"], { cwd: root });
}

function lastChangeMs(folder: string): number {
  if (!existsSync(folder)) return 0;
  const files = readdirSync(folder, { recursive: true, encoding: "utf8" });
  return Math.max(...files.map((file) => statSync(join(folder, file)).mtimeMs));
}
