import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { expect, it } from "vitest";
import { answer, get, post, testApp } from "./harness";

const readme = readFileSync(new URL("../../README.md", import.meta.url), "utf8");
const terrain = createTerrain({ sources: [fileURLToPath(new URL("../../demo/elevation", import.meta.url))] });

/** The shortened answer of the README, as far as it goes: lists hold at least one entry that matches. */
function matching(shown: unknown): unknown {
  if (Array.isArray(shown)) return expect.arrayContaining(shown.map(matching));
  if (shown === null || typeof shown !== "object") return shown;
  return expect.objectContaining(
    Object.fromEntries(Object.entries(shown).map(([key, value]) => [key, matching(value)])),
  );
}

it("answers the first request of the README as the README says", async () => {
  const path = /curl '[^/]*\/\/[^/]*(\/v1\/light-windows[^']*)'/.exec(readme)?.[1] as string;
  const shown: unknown = JSON.parse(/```json\n([\s\S]*?)```/.exec(readme)?.[1] as string);
  const app = testApp({ terrain: await terrain });
  expect(await answer(get(app, path))).toEqual(matching(shown));
});

it("plans the evening of the README", async () => {
  const body = /outings\/plan -d '([\s\S]*?)'/.exec(readme)?.[1] as string;
  const app = testApp({ terrain: await terrain });
  const { moments } = await answer<{ moments: { name: string }[] }>(post(app, "/v1/outings/plan", body));
  expect(moments.map(({ name }) => name)).toContain("shutter-reached");
});
