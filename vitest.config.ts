import { defineConfig } from "vitest/config";

// not `module`: what is meant for bundlers may name files that Node cannot follow
const conditions = ["fieldstop-source", "node", "import", "default"];

const REPLICAS = ["tests/scale/**/*.spec.ts"];

export default defineConfig({
  resolve: { conditions },
  ssr: { resolve: { conditions, externalConditions: conditions } },
  test: {
    environment: "node",
    globalSetup: ["tests/build.ts"],
    setupFiles: ["tests/fixed-seed.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
    maxWorkers: 2,
    // what waits for another process may be late on a busy machine: tried once more where everything must hold
    retry: process.env["CI"] === undefined ? 0 : 1,
    projects: [
      // the files of a worker share one copy of the modules: loading them for each took longer than the tests
      {
        extends: true,
        test: {
          name: "quick",
          include: ["tests/**/*.spec.ts"],
          exclude: REPLICAS,
          isolate: false,
        },
      },
      // several replicas in one process, which share nothing but their Redis: each file with modules of its own
      { extends: true, test: { name: "replicas", include: REPLICAS } },
    ],
  },
});
