import { readdirSync } from "node:fs";
import { basename } from "node:path";
import { defineConfig } from "tsup";
import { modulePerFile } from "../../scripts/module-per-file";

export default defineConfig(modulePerFile(readdirSync("src").map((file) => basename(file, ".ts"))));
