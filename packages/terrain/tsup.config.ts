import { defineConfig } from "tsup";

export default defineConfig({
  entry: ["src/index.ts", "src/remote-terrain.ts", "src/terrain-work.ts"],
  format: ["esm", "cjs"],
  dts: { compilerOptions: { customConditions: [] } },
  clean: true,
  target: "es2022",
});
