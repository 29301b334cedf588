import { defineConfig, type ViteUserConfig } from "vitest/config";

// not `module`: what is meant for bundlers may name files that Node cannot follow
const conditions = ["fieldstop-source", "node", "import", "default"];

export const quick = {
  resolve: { conditions },
  ssr: { resolve: { conditions, externalConditions: conditions } },
  test: {
    include: ["tests/**/*.spec.ts"],
    // long proofs: `npm run test:load`
    exclude: ["tests/load/**"],
    environment: "node",
    globalSetup: ["tests/build.ts"],
    setupFiles: ["tests/fixed-seed.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    // the files of a worker share one copy of the modules: loading them for each took longer than the tests
    isolate: false,
    maxWorkers: 2,
    // what waits for another process may be late on a busy machine: tried once more where everything must hold
    retry: process.env["CI"] === undefined ? 0 : 1,
  },
} satisfies ViteUserConfig;

export default defineConfig(quick);
