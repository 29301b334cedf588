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
  esbuildOptions(options) {
    options.conditions = ["fieldstop-source"];
  },
});
