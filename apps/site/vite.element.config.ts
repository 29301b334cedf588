import { defineConfig } from "vite";

/** The element as one classic script: a page of another host needs no more than a script tag, and no CORS for it. */
export default defineConfig({
  root: import.meta.dirname,
  publicDir: false,
  resolve: { conditions: ["fieldstop-source", "module", "browser", "import", "default"] },
  build: {
    target: "es2022",
    emptyOutDir: false,
    lib: {
      entry: `${import.meta.dirname}/src/element/fieldstop-tonight.ts`,
      formats: ["iife"],
      name: "fieldstopTonight",
      fileName: () => "fieldstop-tonight.js",
    },
  },
});
