import { execFileSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { breakingChanges } from "./breaking-changes";
import { isSaidLater } from "./said-later";

// Holds the contract as it stands to what it was: the last three committed versions and the tenth last.

const FILE = "openapi/openapi.json";
const root = new URL("..", import.meta.url);

const git = (...args: string[]) =>
  execFileSync("git", args, { cwd: root, encoding: "utf8", maxBuffer: 100_000_000 }).trim();

const now = readFileSync(new URL(FILE, root), "utf8");
const commits = git("log", "-11", "--format=%h", "--", FILE).split("\n").filter(Boolean);
const earlier = commits.filter((commit, i) => (i < 4 || i === 10) && git("show", `${commit}:${FILE}`) !== now.trim());
if (earlier.length === 0) console.log("the history here holds no earlier contract: nothing to compare with");

let broken = 0;
for (const commit of earlier) {
  const all = breakingChanges(JSON.parse(git("show", `${commit}:${FILE}`)), JSON.parse(now));
  const changes = all.filter((each) => !isSaidLater(each));
  console.log(`against ${commit}: ${changes.length} breaking`);
  for (const { at, change } of changes) console.log(`  ${change} ${at}`);
  broken += changes.length;
}
process.exit(broken === 0 ? 0 : 1);
