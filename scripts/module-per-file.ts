import { rmSync } from "node:fs";
import type { Options } from "tsup";

const EXTENSIONS = { esm: ".js", cjs: ".cjs" } as const;

/**
 * A package built file by file, ESM and CJS, into an emptied `dist`, so that a page ships only the files that it uses:
 * bundlers drop whole modules more surely than parts of one. Types are rolled up for the entries alone.
 * @param entries what the package's `exports` name, as paths under `src` without their extension
 */
export function modulePerFile(entries: readonly string[]): Options[] {
  // both formats are built side by side: neither may empty the folder while the other writes
  rmSync("dist", { recursive: true, force: true });
  return (["esm", "cjs"] as const).map((format) => ({
    entry: ["src/**/*.ts"],
    format: [format],
    splitting: false,
    target: "es2022",
    silent: true,
    dts: {
      entry: Object.fromEntries(entries.map((entry) => [entry, `src/${entry}.ts`])),
      compilerOptions: { customConditions: [] },
    },
    esbuildPlugins: [
      {
        name: "keep-modules-apart",
        setup(build) {
          build.onResolve({ filter: /^\./ }, ({ path, kind }) =>
            kind === "entry-point"
              ? undefined
              : { path: path.replace(/\.js$/, "") + EXTENSIONS[format], external: true },
          );
        },
      },
    ],
  }));
}
