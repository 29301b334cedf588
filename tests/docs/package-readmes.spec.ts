import { execFile } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { promisify } from "node:util";
import { afterAll, beforeAll, describe, expect, it } from "vitest";

// The programs in the READMEs of the packages that run without a service; tests/sdk/readme.spec.ts has the SDK's.

const root = fileURLToPath(new URL("../..", import.meta.url));
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(join(root, "node_modules/.readmes-"));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

async function output(name: string, program: string): Promise<string> {
  const file = join(folder, `${name}.mts`);
  await writeFile(file, program);
  const options = ["--conditions=fieldstop-source", "--import", "tsx", file];
  return (await promisify(execFile)(process.execPath, options, { cwd: root })).stdout;
}

describe.each([
  {
    name: "core",
    says: [/^2027-03-20T18:\d\d:\d\d\+00:00 terrain\n$/, /^1\/30 s\n\[ '1\/60 s', '1\/30 s', '1\/15 s' \]\n$/],
  },
  { name: "operations", says: [/^2027-03-20T18:51:12\+00:00 [1-9]\d*\n$/] },
  { name: "terrain", says: [/^720 5\n$/] },
])("the README of $name", ({ name, says }) => {
  it("has programs that run and say what they should", async () => {
    const readme = await readFile(join(root, `packages/${name}/README.md`), "utf8");
    const programs = [...readme.matchAll(/```ts\n([\s\S]*?)```/g)].map(([, code]) => code as string);
    expect(programs).toHaveLength(says.length);
    for (const [i, program] of programs.entries())
      expect(await output(`${name}-${i}`, program)).toMatch(says[i] as RegExp);
  });
});

describe("each published package", () => {
  it.each(["core", "terrain", "operations", "sdk"])("%s comes with its README", async (name) => {
    const { files } = JSON.parse(await readFile(join(root, `packages/${name}/package.json`), "utf8"));
    expect(files).toContain("README.md");
    expect(await readFile(join(root, `packages/${name}/README.md`), "utf8")).toContain(`# @fieldstop/${name}\n`);
  });
});
