import { defineConfig } from "vitest/config";
import { quick } from "./vitest.config";

/** The long proofs, one after another: what they measure is the machine's own. */
export default defineConfig({
  ...quick,
  test: { ...quick.test, include: ["tests/load/**/*.spec.ts"], exclude: [], testTimeout: 300_000, maxWorkers: 1 },
});
