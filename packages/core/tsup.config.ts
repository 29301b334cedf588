import { existsSync, readdirSync } from "node:fs";
import { defineConfig } from "tsup";
import { modulePerFile } from "../../scripts/module-per-file";

const subjects = readdirSync("src").filter((name) => existsSync(`src/${name}/index.ts`));

/** What every subject stands on, where others need it too. */
const ground = ["domain-error", "instants", "notes"];

export default defineConfig(modulePerFile(["index", ...ground, ...subjects.map((subject) => `${subject}/index`)]));
