import { basename } from "node:path";
import { fileURLToPath } from "node:url";
import { gzipSync } from "node:zlib";
import { build } from "esbuild";
import { expect, it } from "vitest";

// What a page ships, minified, gzip: first the entry with all that it imports, file by file; apart from that what is loaded only when it is needed.

interface Shipped {
  readonly firstBytes: number;
  /** By the name of the module that is loaded. */
  readonly laterBytes: Readonly<Record<string, number>>;
}

async function shipped(contents: string): Promise<Shipped> {
  const { outputFiles, metafile } = await build({
    stdin: { contents, resolveDir: fileURLToPath(new URL("../../packages/sdk", import.meta.url)) },
    bundle: true,
    minify: true,
    splitting: true,
    format: "esm",
    platform: "browser",
    target: "es2022",
    conditions: ["fieldstop-source"],
    outdir: "out",
    write: false,
    metafile: true,
    legalComments: "none",
  });
  const bytesOf = new Map(
    outputFiles.map(({ path, contents: bytes }) => [basename(path), gzipSync(bytes, { level: 9 }).length]),
  );
  const importsOf = new Map(Object.entries(metafile.outputs).map(([path, { imports }]) => [basename(path), imports]));
  const first = new Set(["stdin.js"]);
  for (const name of first) {
    for (const { kind, path } of importsOf.get(name) ?? []) if (kind === "import-statement") first.add(basename(path));
  }
  const sizes = [...bytesOf];
  return {
    firstBytes: sizes.reduce((sum, [name, bytes]) => sum + (first.has(name) ? bytes : 0), 0),
    laterBytes: Object.fromEntries(
      sizes.filter(([name]) => !first.has(name)).map(([name, bytes]) => [name.replace(/-[A-Z0-9]+\.js$/, ""), bytes]),
    ),
  };
}

const oneCall = `import { createFieldstopClient, getSunPosition } from "@fieldstop/sdk";
const client = createFieldstopClient({ baseUrl: "https://example.org" });
getSunPosition({ client, query: { latitude: 56.6, longitude: -9.4 } }).then(console.log);`;
const offline = (...names: string[]) => `export { ${names.join(", ")} } from "@fieldstop/sdk/offline";`;

// Upper bounds, about 5 % above what is achieved
it.each([
  // the generated client, retries and problems; no dependency
  ["one call over HTTP", oneCall, 5_200],
  // every operation's name and path comes along with the face
  ["the whole face over HTTP", 'export { createFieldstop } from "@fieldstop/sdk";', 6_750],
  // a sixth of it are the marks of the three dials
  ["one exposure offline", offline("solveExposure"), 5_900],
  // a quarter of it are texts, which are part of the answer, word for word that of the service
  ["exposure and bracket offline", offline("solveExposure", "planBracket"), 10_200],
  // half of it is the calendar of time zones, which browsers do not all have yet
  ["the sun offline", offline("getSunPosition"), 27_100],
  [
    "a page with sun, light windows, skyline, framing and filters offline",
    offline(
      "getSunPosition",
      "findLightWindowsFromBody",
      "projectSkyline",
      "solveCameraHeight",
      "stackFilters",
      "selectFilters",
      "assessPolarizer",
      "assessGraduated",
    ),
    68_200,
  ],
  ["everything offline", 'export * from "@fieldstop/sdk/offline";', 108_500],
])("%s stays small", async (_, contents, ceiling) => {
  const { firstBytes } = await shipped(contents);
  expect(firstBytes).toBeLessThan(ceiling);
});

it("loads the table of time zones only when a place comes without its zone", async () => {
  const { firstBytes, laterBytes } = await shipped(offline("getSunPosition"));
  expect(laterBytes["time-zones"]).toBeGreaterThan(25_000);
  expect(firstBytes).toBeLessThan(laterBytes["time-zones"] ?? 0);
});

it("keeps the words of problems, which are loaded when one is thrown, small", async () => {
  const { laterBytes } = await shipped(offline("solveExposure", "planBracket"));
  expect(laterBytes["problem-of"]).toBeLessThan(950);
});
