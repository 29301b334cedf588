import { inSlices } from "@fieldstop/core/stepwise";
import { describe, expect, it } from "vitest";

/** So many steps, each noted. */
function* stepsOf(count: number, done: string[]): Generator<undefined, number> {
  for (let i = 1; i <= count; i++) {
    done.push(`step ${i}`);
    yield;
  }
  return count;
}

describe("inSlices", () => {
  it("lets others have their turn after each slice", async () => {
    const done: string[] = [];
    const result = await inSlices(stepsOf(5, done), 2, async () => done.push("others"));
    expect(result).toBe(5);
    expect(done).toEqual(["step 1", "step 2", "others", "step 3", "step 4", "others", "step 5"]);
  });

  it("waits for that turn to end", async () => {
    const done: string[] = [];
    const others = (): Promise<void> =>
      new Promise((resume) =>
        setTimeout(() => {
          done.push("others");
          resume();
        }, 5),
      );
    await inSlices(stepsOf(2, done), 1, others);
    expect(done).toEqual(["step 1", "others", "step 2", "others"]);
  });

  it("ends with what the turn of others throws", async () => {
    const done: string[] = [];
    const nobodyWaits = async (): Promise<void> => {
      throw new Error("nobody waits");
    };
    await expect(inSlices(stepsOf(5, done), 2, nobodyWaits)).rejects.toThrow("nobody waits");
    expect(done).toEqual(["step 1", "step 2"]);
  });
});
