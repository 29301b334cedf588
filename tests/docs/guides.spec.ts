import { spawn } from "node:child_process";
import { existsSync, readdirSync, readFileSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { VARIABLES } from "@fieldstop/api/server/config";
import { createTerrain } from "@fieldstop/terrain";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "../sdk/server";

// What the guides tell people to copy must run: each program, each address, each link between the pages.

const root = fileURLToPath(new URL("../..", import.meta.url));
const read = (file: string) => ({ file, text: readFileSync(join(root, file), "utf8") });
const markdownIn = (folder: string) => readdirSync(join(root, folder)).filter((name) => name.endsWith(".md"));
/** What people are told to type. */
const guides = ["README.md", ...markdownIn("docs").map((name) => `docs/${name}`)].map(read);
/** All that is written for people. */
const pages = [
  ...guides,
  read("docs/examples/README.md"),
  ...markdownIn(".").flatMap((name) => (name === "README.md" ? [] : [read(name)])),
  ...["core", "terrain", "operations", "sdk"].map((name) => read(`packages/${name}/README.md`)),
];
const blocks = (language: string) =>
  guides.flatMap(({ file, text }) =>
    [...text.matchAll(new RegExp(`\`\`\`${language}\\n([\\s\\S]*?)\`\`\``, "g"))].map((found, i) => ({
      name: `${file}, program ${i + 1}`,
      code: found[1] as string,
    })),
  );
const addresses = guides.flatMap(({ file, text }) =>
  [...text.matchAll(/https?:\/\/(?:127\.0\.0\.1:8787|fieldstop\.example)(\/v1\/[^\s"'`)]*\?[^\s"'`)]*)/g)].map(
    (found) => ({ name: `${file}: ${found[1]}`, path: found[1] as string }),
  ),
);

let server: RunningServer;
let folder: string;
beforeAll(async () => {
  server = await startServer(testApp({ terrain: await createTerrain({ sources: [join(root, "demo/elevation")] }) }));
  // inside the project, so that the programs find its packages
  folder = await mkdtemp(join(root, "node_modules/.guides-"));
});
afterAll(async () => {
  await server.close();
  await rm(folder, { recursive: true, force: true });
});

interface Ended {
  readonly code: number | null;
  readonly said: string;
  readonly complained: string;
}

function run(file: string): Promise<Ended> {
  const { CHAT_WEBHOOK: _, ...environment } = process.env;
  const child = spawn(process.execPath, ["--conditions=fieldstop-source", "--import", "tsx", file], {
    cwd: root,
    env: environment,
  });
  let said = "";
  let complained = "";
  child.stdout.on("data", (text) => {
    said += text;
  });
  child.stderr.on("data", (text) => {
    complained += text;
  });
  return new Promise((resolve) => child.on("close", (code) => resolve({ code, said, complained })));
}

describe("programs of the guides", () => {
  it.each(blocks("ts"))("$name", async ({ name, code }) => {
    const file = join(folder, `${name.replaceAll(/[^a-z0-9]+/gi, "-")}.mts`);
    await writeFile(file, code.replaceAll("http://127.0.0.1:8787", server.baseUrl));
    const { code: exit, said, complained } = await run(file);
    expect(exit, complained).toBe(0);
    expect(said.length).toBeGreaterThan(5);
    expect(said).not.toMatch(/undefined|NaN/);
  });
});

describe("addresses of the guides", () => {
  it.each(addresses)("$name", async ({ path }) => {
    const response = await fetch(`${server.baseUrl}${path}`);
    expect(response.status, await response.text()).toBe(200);
  });
});

describe("settings", () => {
  it("each stand in the table of docs/configuration.md, and nothing else does", () => {
    const page = readFileSync(join(root, "docs/configuration.md"), "utf8");
    const rows = [...page.matchAll(/^\| `([A-Z_]+)`/gm)].map(([, name]) => name);
    expect(rows.sort()).toEqual([...VARIABLES].sort());
  });
});

describe("what the pages name", () => {
  const { scripts } = JSON.parse(readFileSync(join(root, "package.json"), "utf8")) as { scripts: object };

  it.each(pages)("in $file is a script that there is", ({ text }) => {
    for (const [, name] of text.matchAll(/npm run (?:--silent )?([a-z][a-z:-]*)/g))
      expect(scripts).toHaveProperty(name as string);
  });

  it("in DEVELOPERS.md is a file that there is", () => {
    const text = readFileSync(join(root, "DEVELOPERS.md"), "utf8");
    const files = [...text.matchAll(/`([a-z-]+(?:\/[a-z-]+)+\.(?:ts|json|md))`/g)].map(([, file]) => file as string);
    const places = ["", "packages/core/src", "apps/api/src"];
    expect(files.length).toBeGreaterThan(20);
    expect(files.filter((file) => !places.some((place) => existsSync(join(root, place, file))))).toEqual([]);
  });
});

/** The anchors of a page, as GitHub makes them from its headings. */
const anchorsOf = (text: string): string[] =>
  [...text.matchAll(/^#+ (.*)$/gm)].map(([, heading]) =>
    (heading as string)
      .toLowerCase()
      .replaceAll(/[^\w\s-]/g, "")
      .replaceAll(" ", "-"),
  );

describe("links of the pages", () => {
  it.each(pages)("$file", ({ file, text }) => {
    for (const [, target, anchor] of text.matchAll(/\]\((?!https?:)([^)#]*)(?:#([^)]*))?\)/g)) {
      const linked = target === "" ? file : join(file, "..", target as string);
      expect(existsSync(join(root, linked)), `${file} links to ${target}`).toBe(true);
      if (anchor !== undefined) expect(anchorsOf(read(linked).text), `${file} links to #${anchor}`).toContain(anchor);
    }
  });
});
