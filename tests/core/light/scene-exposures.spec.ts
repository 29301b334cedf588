import { describe, expect, it } from "vitest";
import { SCENE_EV_TOLERANCE_STOPS, sceneEv } from "../../accuracy/scene-ev";

describe("the published exposure guide", () => {
  const results = sceneEv();
  const misses = results.filter(({ errorStops }) => !(errorStops <= SCENE_EV_TOLERANCE_STOPS));

  it("has every row of daylight, twilight and moonlight", () => {
    expect(results).toHaveLength(19);
  });

  it("is met within half a stop in at least nine rows of ten", () => {
    const table = results.map(
      ({ scene, publishedEv100, modelEv100, errorStops }) =>
        `${scene}: printed ${publishedEv100.join(" to ")}, model ${modelEv100.toFixed(2)}, off by ${errorStops.toFixed(2)}`,
    );
    expect(misses.length / results.length, table.join("\n")).toBeLessThanOrEqual(0.1);
  });

  it("is never missed by a stop", () => {
    for (const { scene, errorStops } of results) expect(errorStops, scene).toBeLessThan(1);
  });

  it.each(misses.map((miss) => [miss.scene, miss.why] as const))("is missed for %s because %s", (_, why) => {
    expect(why).toBeDefined();
  });
});
