import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import type * as offline from "@fieldstop/sdk/offline";
import { type BuildOptions, build } from "esbuild";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

// What a page loads only when it is called for, from bundles as bundlers make them: when it comes, and when it cannot be had.

type Page = Pick<typeof offline, "planBracket" | "solveExposure">;

const CONTENTS = 'export { planBracket, solveExposure } from "@fieldstop/sdk/offline";';
const plain = { ev100: 12, aperture: 8, iso: 100 };

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), "fieldstop-later-parts-"));
});
afterAll(() => rm(folder, { recursive: true }));

/** The page's script, bundled into a folder of its own; `without` names a part that is then no longer there. */
async function bundled(name: string, options: BuildOptions, without?: string): Promise<Page> {
  const outdir = join(folder, name);
  const { metafile } = await build({
    stdin: { contents: CONTENTS, resolveDir: fileURLToPath(new URL("../../packages/sdk", import.meta.url)) },
    bundle: true,
    target: "es2022",
    conditions: ["fieldstop-source"],
    outdir,
    metafile: true,
    logLevel: "silent",
    ...options,
  });
  if (without !== undefined) {
    const parts = Object.keys(metafile?.outputs ?? {}).filter((path) => path.includes(`/${without}-`));
    expect(parts).toHaveLength(1);
    for (const path of parts) await rm(path);
  }
  const extension = options.outExtension?.[".js"] ?? ".js";
  return (await import(/* @vite-ignore */ pathToFileURL(join(outdir, `stdin${extension}`)).href)) as Page;
}

const inParts = { format: "esm", splitting: true, outExtension: { ".js": ".mjs" } } as const;

describe.each([
  ["in parts", inParts],
  ["in one file", { format: "esm", outExtension: { ".js": ".mjs" } }],
  ["in one CommonJS file", { format: "cjs", platform: "node", outExtension: { ".js": ".cjs" } }],
] as const)("a page %s", (name, options) => {
  let page: Page;
  beforeAll(async () => {
    page = await bundled(name, options);
  });

  it("answers plain requests", async () => {
    expect((await page.solveExposure(plain)).shutter.nominal).toBe("1/60 s");
    expect((await page.planBracket({ shadowEv100: 3, highlightEv100: 16 })).count).toBe(3);
  });

  it("answers those with filters, video or something that moves", async () => {
    const filters = [{ kind: "nd" as const, stops: 10 }];
    const dense = await page.solveExposure({ ...plain, filters, video: { frameRate: 24 } });
    expect(dense.attenuationStops).toBe(10);
    expect(dense.cautions.map(({ code }) => code)).toEqual(["sun-through-optics"]);
    expect(dense.video?.shortfallStops).toBeGreaterThan(0);
    const subject = { budgetPx: 1, motion: { speedMPerS: 1, distanceM: 10, focalLengthMm: 50, pixelPitchUm: 5 } };
    const moving = await page.planBracket({ shadowEv100: 3, highlightEv100: 16, lightStopsPerMinute: -20, subject });
    expect(moving.warnings.map(({ code }) => code)).toEqual(["light-drift", "subject-displacement"]);
  });

  it("words what it refuses", async () => {
    await expect(page.solveExposure({ ev100: 12, aperture: 8 })).rejects.toMatchObject({
      name: "FieldstopProblem",
      status: 400,
      errors: [{ pointer: "/shutterSeconds" }],
    });
    await expect(page.planBracket({ shadowEv100: 0, highlightEv100: 30, counts: [3] })).rejects.toMatchObject({
      name: "FieldstopProblem",
      status: 422,
      detail: expect.stringContaining("it would take") as string,
    });
  });
});

describe("a page without network that did not keep all parts", () => {
  it("tells what was refused as core does, where the words are missing", async () => {
    const page = await bundled("without words", inParts, "problem-of");
    expect((await page.solveExposure(plain)).shutter.nominal).toBe("1/60 s");
    await expect(page.solveExposure({ ...plain, iso: 0 })).rejects.toMatchObject({
      name: "DomainError",
      param: "iso",
      message: "iso: 0 is not allowed; allowed: a finite number from 1 to 10000000",
    });
  });
});
