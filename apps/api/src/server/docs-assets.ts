import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import type { DocsAsset } from "../pages/mount-pages";

const TYPES: Readonly<Record<string, string>> = {
  "swagger-ui.css": "text/css",
  "swagger-ui-bundle.js": "text/javascript",
};

/** The script and style of the docs page, read from their package on first use. */
export function docsAssetsFromPackage(): DocsAsset {
  const folder = dirname(createRequire(import.meta.url).resolve("swagger-ui-dist/package.json"));
  const kept = new Map<string, ReturnType<DocsAsset>>();
  return (name) => {
    const type = Object.hasOwn(TYPES, name) ? TYPES[name] : undefined;
    if (type === undefined) return undefined;
    if (!kept.has(name)) kept.set(name, { body: new Uint8Array(readFileSync(join(folder, name))), type });
    return kept.get(name);
  };
}
