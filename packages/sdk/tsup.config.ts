import { defineConfig } from "tsup";
import { modulePerFile } from "../../scripts/module-per-file";

export default defineConfig(modulePerFile(["index", "offline/index"]));
