import { spawn } from "node:child_process";
import { readdirSync, readFileSync } from "node:fs";
import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "../sdk/server";

// What the guides tell people to copy must run: each program, each address, each link between the pages.

const root = fileURLToPath(new URL("../..", import.meta.url));
const guides = ["README.md", ...readdirSync(join(root, "docs")).map((name) => `docs/${name}`)].map((file) => ({
  file,
  text: readFileSync(join(root, file), "utf8"),
}));
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
  it("each stand in the README", () => {
    const readme = guides.find(({ file }) => file === "README.md")?.text;
    const config = readFileSync(join(root, "apps/api/src/server/config.ts"), "utf8");
    const names = [...new Set(config.match(/FIELDSTOP_[A-Z_]+/g))];
    expect(names.length).toBeGreaterThan(12);
    for (const name of names) expect(readme).toContain(`\`${name}\` |`);
  });
});

describe("links of the guides", () => {
  it.each(guides)("$file", ({ file, text }) => {
    for (const [, target] of text.matchAll(/\]\((?!https?:)([^)#]*)(#[^)]*)?\)/g)) {
      if (target === undefined || target === "") continue;
      expect(() => readFileSync(join(root, file, "..", target)), `${file} links to ${target}`).not.toThrow();
    }
  });
});
