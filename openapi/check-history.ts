import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { breakingChanges } from "./breaking-changes";

// Hold the contract as it stands to what it was: the last three committed texts and the tenth last of the same minor version. A new minor version starts anew.

const FILE = "openapi/openapi.json";
const root = new URL("..", import.meta.url);

const git = (...args: string[]) =>
  execFileSync("git", args, { cwd: root, encoding: "utf8", maxBuffer: 100_000_000 }).trim();

const minorOf = (text: string): string =>
  (JSON.parse(text) as { info: { version: string } }).info.version.split(".", 2).join(".");

const now = readFileSync(new URL(FILE, root), "utf8");
const commits = git("log", "-11", "--format=%h", "--", FILE).split("\n").filter(Boolean);
const earlier = commits.filter((commit, i) => {
  if (i >= 4 && i !== 10) return false;
  const then = git("show", `${commit}:${FILE}`);
  return then !== now.trim() && minorOf(then) === minorOf(now);
});
if (earlier.length === 0) console.log(`no earlier contract of ${minorOf(now)} here: nothing to compare with`);

let broken = 0;
for (const commit of earlier) {
  const changes = breakingChanges(JSON.parse(git("show", `${commit}:${FILE}`)), JSON.parse(now));
  console.log(`against ${commit}: ${changes.length} breaking`);
  for (const { at, change } of changes) console.log(`  ${change} ${at}`);
  broken += changes.length;
}
process.exit(broken === 0 ? 0 : 1);
