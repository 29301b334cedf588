import { defineConfig } from "tsup";

export default defineConfig({
  entry: { index: "src/index.ts", offline: "src/offline/index.ts" },
  format: ["esm", "cjs"],
  dts: { compilerOptions: { customConditions: [] } },
  clean: true,
  target: "es2022",
});
