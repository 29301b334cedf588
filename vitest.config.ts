import { defineConfig } from "vitest/config";

const conditions = ["fieldstop-source", "module", "node", "import", "default"];

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
