import { existsSync, readdirSync } from "node:fs";
import { defineConfig } from "tsup";
import { modulePerFile } from "../../scripts/module-per-file";

const subjects = readdirSync("src").filter((name) => existsSync(`src/${name}/index.ts`));

export default defineConfig(modulePerFile(["index", ...subjects.map((subject) => `${subject}/index`)]));
