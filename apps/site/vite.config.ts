import { createHash } from "node:crypto";
import { readFileSync } from "node:fs";
import { defineConfig, type Plugin } from "vite";
import { contentSecurityPolicy, serviceUrl } from "./site-settings.ts";

/** The table of zones by coordinates: the SDK loads it for places that come without their zone, and here each has one. */
const UNUSED_PART = "time-zones";

const pages = ["index.html", "spot.html", "embed.html"];

/** Writes the service's address and the policy for content into each page, so that the build needs nothing of its host. */
function settingsInPages(): Plugin {
  return {
    name: "settings-in-pages",
    transformIndexHtml: (html) =>
      html.replaceAll("%SERVICE_URL%", serviceUrl).replaceAll("%CONTENT_SECURITY_POLICY%", contentSecurityPolicy),
  };
}

/** Tells the service worker which files make up the page, and a version that changes with any of them. */
function shellList(): Plugin {
  return {
    name: "shell-list",
    enforce: "post",
    generateBundle(_, bundle) {
      const worker = Object.values(bundle).find(
        (file) => file.type === "chunk" && file.fileName === "service-worker.js",
      );
      if (worker?.type !== "chunk") throw new Error("the build made no service worker");
      const files = Object.values(bundle).filter(
        (file) => file !== worker && file.name !== UNUSED_PART && !file.fileName.endsWith(".map"),
      );
      const hash = createHash("sha256");
      for (const file of files) hash.update(file.type === "chunk" ? file.code : file.source);
      const publicFiles = ["icon.svg", "manifest.webmanifest"];
      for (const name of publicFiles) hash.update(readFileSync(new URL(`public/${name}`, import.meta.url)));
      const shell = JSON.stringify([...files.map(({ fileName }) => fileName), ...publicFiles].sort());
      worker.code = worker.code
        .replace(/["'`]__SHELL_FILES__["'`]/, () => shell)
        .replace("__SHELL_VERSION__", hash.digest("hex").slice(0, 12));
    },
  };
}

export default defineConfig({
  root: import.meta.dirname,
  base: "./",
  resolve: {
    conditions: ["fieldstop-source", "module", "browser", "import", "default"],
    alias: [{ find: /^temporal-polyfill$/, replacement: `${import.meta.dirname}/src/evening/temporal.ts` }],
  },
  plugins: [settingsInPages(), shellList()],
  build: {
    target: "es2022",
    modulePreload: { polyfill: false },
    assetsInlineLimit: 0,
    rolldownOptions: {
      input: [...pages, "src/worker/service-worker.ts"].map((file) => `${import.meta.dirname}/${file}`),
      output: {
        entryFileNames: ({ name }) => (name === "service-worker" ? "service-worker.js" : "assets/[name]-[hash].js"),
      },
    },
  },
});
