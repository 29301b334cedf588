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
    // one more than the two cores that everything must pass on, since many tests wait
    maxWorkers: 3,
  },
} satisfies ViteUserConfig;

export default defineConfig(quick);
