import { defineConfig } from "vitest/config";
import { quick } from "./vitest.config";

/** The long proofs and the thorough form of others, one after another: what they measure is the machine's own. */
export default defineConfig({
  ...quick,
  test: {
    ...quick.test,
    projects: undefined,
    include: ["tests/load/**/*.spec.ts", "tests/site/**/*.spec.ts"],
    testTimeout: 300_000,
    env: { FIELDSTOP_TEST_THOROUGH: "1" },
    maxWorkers: 1,
  },
});
