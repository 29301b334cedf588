import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { deepestZoom } from "../../../packages/terrain/src/map-tiles/deepest-zoom";

describe("deepestZoom", () => {
  it("finds the deepest there is, whatever was guessed, and looks at no zoom twice", async () => {
    const zoom = fc.integer({ min: 0, max: 22 });
    await fc.assert(
      fc.asyncProperty(zoom, zoom, zoom, zoom, async (a, b, deepest, guess) => {
        const [coarsest, finest] = [Math.min(a, b), Math.max(a, b)];
        const looked: number[] = [];
        const look = async (at: number) => {
          looked.push(at);
          return at <= deepest ? `tiles of ${at}` : null;
        };
        const found = await deepestZoom(coarsest, finest, look, guess);
        const there = Math.min(deepest, finest);
        expect(found).toEqual(there < coarsest ? null : { zoom: there, found: `tiles of ${there}` });
        expect(new Set(looked).size).toBe(looked.length);
        expect(looked.every((at) => at >= coarsest && at <= finest)).toBe(true);
        // halving after the guess and the one beyond it
        expect(looked.length).toBeLessThanOrEqual(2 + Math.ceil(Math.log2(finest - coarsest + 2)));
      }),
    );
  });

  it("lets a fault through", async () => {
    const look = async () => Promise.reject(new Error("no answer"));
    await expect(deepestZoom(0, 9, look)).rejects.toThrow("no answer");
  });
});
