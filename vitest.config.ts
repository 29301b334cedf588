import { defineConfig } from "vitest/config";

// not `module`: what is meant for bundlers may name files that Node cannot follow
const conditions = ["fieldstop-source", "node", "import", "default"];

export default defineConfig({
  resolve: { conditions },
  ssr: { resolve: { conditions, externalConditions: conditions } },
  test: {
    include: ["tests/**/*.spec.ts"],
    environment: "node",
    setupFiles: ["tests/fixed-seed.ts"],
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
