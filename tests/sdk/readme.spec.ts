import { mkdirSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { fileURLToPath, pathToFileURL } from "node:url";
import { afterAll, beforeAll, expect, it, vi } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "./server";

// What the README tells people to type is typed here: as one program, against a running service.

const readme = readFileSync(new URL("../../packages/sdk/README.md", import.meta.url), "utf8");
const snippets = [...readme.matchAll(/```ts\n([\s\S]*?)```/g)].map(([, code]) => code as string);
const folder = fileURLToPath(new URL("./readme-program/", import.meta.url));

let server: RunningServer;
beforeAll(async () => {
  server = await startServer(testApp());
  mkdirSync(folder, { recursive: true });
});
afterAll(async () => {
  await server.close();
  rmSync(folder, { recursive: true, force: true });
});

it("shows every call in three lines of code at most", () => {
  const calls = snippets.filter((code) => /await fieldstop\./.test(code) && !code.includes("catch"));
  expect(calls.length).toBeGreaterThanOrEqual(19);
  for (const code of calls) expect(code.trim().split("\n").length, code).toBeLessThanOrEqual(3);
});

it("runs as it is printed", async () => {
  const lines = snippets.join("").replaceAll("http://127.0.0.1:8787", server.baseUrl).split("\n");
  const imports = lines.filter((line) => line.startsWith("import "));
  const rest = lines.filter((line) => !line.startsWith("import "));
  const file = `${folder}program.ts`;
  writeFileSync(file, [...imports, ...rest].join("\n"));
  const said = vi.spyOn(console, "log").mockImplementation(() => undefined);
  try {
    await import(pathToFileURL(file).href);
    const printed = said.mock.calls;
    expect(printed.length).toBe(readme.match(/console\.log\(/g)?.length);
    expect(printed.filter((values) => values.includes(undefined))).toEqual([]);
    expect(printed.at(-1)).toEqual([400, "query:latitude", "at most 90"]);
  } finally {
    said.mockRestore();
  }
});
