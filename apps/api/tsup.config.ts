import { defineConfig } from "tsup";

export default defineConfig({
  entry: ["src/main.ts", "src/app.ts"],
  format: ["esm"],
  clean: true,
  silent: true,
  target: "node20",
  noExternal: [/^@fieldstop\//],
  esbuildOptions(options) {
    options.conditions = ["fieldstop-source"];
  },
});
