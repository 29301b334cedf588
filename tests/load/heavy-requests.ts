import sharp from "sharp";
import { seeded } from "../accuracy/errors";
import { operations } from "./contract";
import type { DrawnRequest } from "./requests";

const STREAM_PLACES = 60;
const PHOTO_PIXELS = [1800, 1200] as const;
const BOUNDARY = "fieldstop-bracket";
const SHUTTERS = ["1/500", "1/125", "1/30"];

/** What draws on the contract leave small: streams of many forecasts, and brackets of photographs with pixels to decode. */
export async function heavyRequests(count: number, seed: number): Promise<DrawnRequest[]> {
  const random = seeded(seed);
  const photographs = await Promise.all(SHUTTERS.map((shutter, i) => photograph(shutter, 40 + 60 * i)));
  return Array.from({ length: count }, (_, i) => (i % 3 === 0 ? bracket(photographs) : stream(random)));
}

function stream(random: () => number): DrawnRequest {
  const places = Array.from({ length: STREAM_PLACES }, (_, i) => ({
    id: `spot-${i}`,
    place: { latitude: 56.5 + 0.2 * random(), longitude: -9.5 + 0.2 * random() },
    date: new Date(Date.UTC(2027, 0, 1 + Math.floor(365 * random()))).toISOString().slice(0, 10),
  }));
  const headers = { "content-type": "application/json" };
  return { ...target("streamForecasts"), headers, body: JSON.stringify({ places }) };
}

function bracket(photographs: readonly Buffer[]): DrawnRequest {
  const parts = photographs.flatMap((photo, i) => [
    Buffer.from(
      `--${BOUNDARY}\r\nContent-Disposition: form-data; name="photos"; filename="${i}.jpg"\r\nContent-Type: image/jpeg\r\n\r\n`,
    ),
    photo,
    Buffer.from("\r\n"),
  ]);
  const body = Buffer.concat([...parts, Buffer.from(`--${BOUNDARY}--\r\n`)]);
  return {
    ...target("reviewBracketPhotos"),
    headers: { "content-type": `multipart/form-data; boundary=${BOUNDARY}` },
    body,
  };
}

function target(id: string): Pick<DrawnRequest, "operation" | "method" | "path"> {
  const operation = operations.find((one) => one.id === id);
  if (operation === undefined) throw new Error(`no operation ${id}`);
  return { operation, method: operation.method, path: operation.path };
}

function photograph(shutter: string, grey: number): Promise<Buffer> {
  const [width, height] = PHOTO_PIXELS;
  const noise = { type: "gaussian" as const, mean: grey, sigma: 30 };
  return sharp({ create: { width, height, channels: 3, background: "grey", noise } })
    .withExif({ IFD2: { ExposureTime: shutter, FNumber: "8/1", ISOSpeedRatings: "100" } })
    .jpeg()
    .toBuffer();
}
