import { readFile, writeFile } from "node:fs/promises";
import { defineConfig } from "tsup";

/** What is needed from the start: to look for some 300 files of packages takes a fifth of the time that the service takes to start. */
const FROM_THE_START = [
  /^@fieldstop\//,
  /^(hono|@hono\/.+|zod|@asteasolutions\/zod-to-openapi)(\/|$)/,
  /^(pino.*|prom-client|@opentelemetry\/api)(\/|$)/,
  /^(lru-cache|d3-.+|ical-generator)(\/|$)/,
];

export default defineConfig({
  entry: { main: "src/main.ts", app: "src/app.ts", worker: "src/workers/worker.ts", decoder: "src/photos/decoder.ts" },
  format: ["esm"],
  clean: true,
  silent: true,
  target: "node20",
  noExternal: FROM_THE_START,
  // for those of them that are CommonJS and ask for what Node has
  banner: {
    js: 'import { createRequire as requireOf } from "node:module"; const require = requireOf(import.meta.url);',
  },
  // needed only where there is a folder for the cache
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
