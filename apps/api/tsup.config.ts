import { readFile, writeFile } from "node:fs/promises";
import { defineConfig } from "tsup";

export default defineConfig({
  entry: { main: "src/main.ts", app: "src/app.ts", worker: "src/node/worker.ts" },
  format: ["esm"],
  clean: true,
  silent: true,
  target: "node20",
  noExternal: [/^@fieldstop\//],
  // CommonJS that asks for what only Node has: it cannot be put into a module
  external: ["cacache"],
  // the contract is committed, so that the service need not write it from the code while others wait
  async onSuccess() {
    const contract = JSON.parse(await readFile("../../openapi/openapi.json", "utf8"));
    await writeFile("dist/openapi.json", JSON.stringify(contract));
  },
  esbuildOptions(options) {
    options.conditions = ["fieldstop-source"];
  },
});
