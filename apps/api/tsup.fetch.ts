import { defineConfig } from "tsup";

/** The app for runtimes that have no disk and no packages: one file that asks for nothing but their `node:` modules. */
export default defineConfig({
  entry: { fetch: "src/fetch.ts" },
  format: ["esm"],
  silent: true,
  target: "es2022",
  platform: "neutral",
  splitting: false,
  noExternal: [/^(?!cacache$|node:)/],
  // asked for where there is a disk, which is never here
  external: ["cacache"],
  esbuildOptions(options) {
    options.conditions = ["fieldstop-source", "workerd", "worker", "browser", "module", "import", "default"];
    options.mainFields = ["browser", "module", "main"];
    options.external = [...(options.external ?? []), "node:*"];
    // a library asks for them in parts that are not used here
    options.alias = { http: "node:http", https: "node:https", url: "node:url", fs: "node:fs", crypto: "node:crypto" };
  },
});
