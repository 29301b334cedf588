import { existsSync } from "node:fs";
import { join } from "node:path";
import type { OutingPlan } from "@fieldstop/core";
import { type OutingRequest, planOuting } from "@fieldstop/operations";
import { createTerrain, type Terrain } from "@fieldstop/terrain";
import tzLookup from "@photostructure/tz-lookup";
import { beforeAll, describe, expect, it } from "vitest";
import { type Expectation, isAsExpected } from "./advice-check";
import common from "./advice-common.json";
import more from "./advice-more.json";
import situations from "./advice-situations.json";

// Situations with what an experienced photographer would do there, each with its source: published guides and handbooks, or common practice where it says so

interface Situation {
  readonly id: string;
  readonly title: string;
  readonly request: OutingRequest;
  /** What the request says besides, where the situation cannot be told without it. */
  readonly later?: Partial<OutingRequest>;
  readonly expect: readonly Expectation[];
}

const REAL_TILES = join(import.meta.dirname, "../../../shared/elevation");
const DEMO = join(import.meta.dirname, "../../demo/elevation");
const hasRealTiles = existsSync(REAL_TILES);

/** Where this project judges otherwise, and why. */
const OTHERWISE: Readonly<Record<string, string>> = {
  "S19 all derived.reflectionOverSkyStops":
    "by Fresnel's law the loch mirrors 1.6 stops less than its sky, which no whole stop of the bag meets: a soft filter of 2, whose edge leaves the low sky some tenths brighter than its mark, comes nearest",
};

let terrain: Terrain;
beforeAll(async () => {
  terrain = await createTerrain({ sources: hasRealTiles ? [REAL_TILES, DEMO] : [DEMO] });
});

const dependencies = () => ({
  terrain,
  timeZoneAt: (latitude: number, longitude: number) => tzLookup(latitude, longitude),
  nowMs: () => Date.UTC(2027, 2, 20),
});

const all = [...situations, ...more] as unknown as readonly Situation[];

for (const situation of all) {
  const { id, title, request } = situation;
  const needsTiles = request.horizon?.kind === "terrain" && !hasRealTiles;
  describe.skipIf(needsTiles)(`${id} ${title}${needsTiles ? " (the real tiles are not here)" : ""}`, () => {
    let plan: OutingPlan;
    beforeAll(async () => {
      plan = (await planOuting(dependencies(), { ...request, ...situation.later })) as OutingPlan;
    });
    const expected = [...situation.expect, ...(common as unknown as readonly Expectation[])];
    it.each(
      expected
        .filter(({ moment, path }) => OTHERWISE[`${id} ${moment} ${path}`] === undefined)
        .map(
          (one, i) => [`${i + 1}: ${one.moment} ${one.path} ${one.relation} (${one.why}; ${one.source})`, one] as const,
        ),
    )("%s", (_, one) => {
      expect(isAsExpected(one, plan, request.camera)).toBe(true);
    });
  });
}

it("names what it judges otherwise by rows that are there", () => {
  const rows = all.flatMap(({ id, expect: expected }) => expected.map(({ moment, path }) => `${id} ${moment} ${path}`));
  for (const row of Object.keys(OTHERWISE)) expect(rows).toContain(row);
});
