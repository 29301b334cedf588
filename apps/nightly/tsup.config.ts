import { defineConfig } from "tsup";

export default defineConfig({
  entry: { main: "src/main.ts" },
  format: ["esm"],
  clean: true,
  silent: true,
  target: "node20",
  noExternal: [/^@fieldstop\//],
  esbuildOptions(options) {
    options.conditions = ["fieldstop-source"];
  },
});
