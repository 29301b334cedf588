import { readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { fileURLToPath } from "node:url";

const PACKAGE = "@photostructure/tz-lookup";
const CJS_EXPORT = '"undefined"!=typeof module&&(module.exports=tzlookup);';

/** Where the SDK keeps the table. */
export const TABLE_FILE = fileURLToPath(new URL("../packages/sdk/src/offline/time-zone-table.ts", import.meta.url));

/**
 * The table of time zones as an ES module. As it comes it is CommonJS, and a bundler that splits makes every page load helpers for that first,
 * though hardly any loads the table.
 */
export function timeZoneTable(): string {
  const require = createRequire(import.meta.url);
  const source = readFileSync(require.resolve(PACKAGE), "utf8").trim();
  const { version, license } = require(`${PACKAGE}/package.json`) as { version: string; license: string };
  if (!source.startsWith("function tzlookup(") || !source.endsWith(CJS_EXPORT)) {
    throw new Error(`${PACKAGE} ${version} is not written as this script expects`);
  }
  return [
    `// Written by scripts/write-time-zone-table.ts from ${PACKAGE} ${version} (${license}): not to be edited.`,
    "// @ts-nocheck",
    `export ${source.slice(0, -CJS_EXPORT.length)}`,
    "",
  ].join("\n");
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(TABLE_FILE, timeZoneTable());
