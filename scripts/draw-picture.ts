import { writeFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { createApp } from "@fieldstop/api/app";
import { createTerrain } from "@fieldstop/terrain";

/** The request whose answer is the picture of the README: Ardvane Strand on the day that its requests ask about. */
export const PICTURE_REQUEST =
  "/v1/horizon.svg?latitude=56.6&longitude=-9.4&name=Ardvane%20Strand&timeZone=Europe%2FLondon&date=2027-03-20&width=900";
export const PICTURE_FILE = fileURLToPath(new URL("../docs/ardvane-strand.svg", import.meta.url));

/** The picture of the README, drawn by the service. */
export async function drawPicture(): Promise<string> {
  const terrain = await createTerrain({ sources: [fileURLToPath(new URL("../demo/elevation", import.meta.url))] });
  const app = createApp({
    terrain,
    timeZoneAt: () => "Europe/London",
    nowMs: () => Date.parse("2027-03-20T12:00:00Z"),
    reportFault: (error) => {
      throw error;
    },
  });
  const response = await app.request(PICTURE_REQUEST);
  const text = await response.text();
  if (response.status !== 200) throw new Error(text);
  return text;
}

if (process.argv[1] === fileURLToPath(import.meta.url)) writeFileSync(PICTURE_FILE, await drawPicture());
