import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { beforeAll, describe, expect, it } from "vitest";
import { answer, get, post, type TestApp, testApp } from "./harness";

// The README's requests, in its order, and what it shows of their answers.

const readme = readFileSync(new URL("../../README.md", import.meta.url), "utf8");
const requests = [...readme.matchAll(/```sh\ncurl ([\s\S]*?)```\n\n```(?:json)?\n([\s\S]*?)```/g)].map((found) => ({
  command: found[1] as string,
  shown: found[2] as string,
}));

let app: TestApp;
beforeAll(async () => {
  const sources = [fileURLToPath(new URL("../../demo/elevation", import.meta.url))];
  app = testApp({ terrain: await createTerrain({ sources }) });
});

/** The path that a command asks for, and the body that it sends. */
function partsOf(command: string): { path: string; body?: string } {
  const path = /http:\/\/127\.0\.0\.1:8787(\/[^\s']*)/.exec(command)?.[1] as string;
  const body = / -d '([\s\S]*?)'/.exec(command)?.[1];
  return body === undefined ? { path } : { path, body };
}

/** A shortened answer, as far as it goes: lists hold at least the entries that are shown. */
function matching(shown: unknown): unknown {
  if (Array.isArray(shown)) return expect.arrayContaining(shown.map(matching));
  if (shown === null || typeof shown !== "object") return shown;
  return expect.objectContaining(
    Object.fromEntries(Object.entries(shown).map(([key, value]) => [key, matching(value)])),
  );
}

describe("the README", () => {
  it("has at most 100 lines and three requests", () => {
    expect(readme.trimEnd().split("\n").length).toBeLessThanOrEqual(100);
    expect(requests.map(({ command }) => partsOf(command).path.split("?")[0])).toEqual([
      "/v1/light-windows",
      "/v1/outings/plan",
      "/v1/forecast.txt",
    ]);
  });

  it.each([0, 1])("shows what request %i answers", async (index) => {
    const { command, shown } = requests[index] as (typeof requests)[number];
    const { path, body } = partsOf(command);
    const response = body === undefined ? get(app, path) : post(app, path, body);
    expect(await answer(response)).toEqual(matching(JSON.parse(shown)));
  });

  it("shows the text that request 2 answers", async () => {
    const { command, shown } = requests[2] as (typeof requests)[number];
    const response = await get(app, partsOf(command).path);
    expect(response.status).toBe(200);
    expect(await response.text()).toContain(shown.trim());
  });
});
