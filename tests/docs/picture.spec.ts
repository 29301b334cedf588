import { readFileSync } from "node:fs";
import { expect, it } from "vitest";
import { drawPicture, PICTURE_FILE } from "../../scripts/draw-picture";

it("the README's picture is what the service draws; `npm run docs:picture` draws it again", async () => {
  expect(readFileSync(PICTURE_FILE, "utf8")).toBe(await drawPicture());
});
