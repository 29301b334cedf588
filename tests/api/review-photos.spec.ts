import { photoReader } from "@fieldstop/api/photos/sharp-reader";
import { UnreadablePhoto } from "@fieldstop/api/photos/unreadable-photo";
import { createFieldstop } from "@fieldstop/sdk";
import sharp from "sharp";
import { describe, expect, it, vi } from "vitest";
import { evenScene } from "../core/bracketing/synthetic-scene";
import { startServer } from "../sdk/server";
import { answer, problem, refusedFields, testApp } from "./harness";
import {
  jpeg,
  linearPng,
  PIXELS,
  png16,
  pngOfClaimedSize,
  type Settings,
  tiff16,
  WIDTH,
  withTiffTag,
} from "./photographs";

const app = testApp({ photos: photoReader() });
const PATH = "/v1/brackets/review-photos";

interface Review {
  readonly frames: readonly { biasStops: number; clippedHighlightPercent: number; needed: boolean }[];
  readonly sceneRangeStops: number;
  readonly sceneRangeIsMinimum: boolean;
  readonly highlightStops: number;
  readonly missing: readonly { biasStops: number; code: string }[];
  readonly biasFrom: string;
  readonly photos: readonly Record<string, unknown>[];
  readonly assumptions: readonly { field: string; value: unknown; why: string }[];
}

function form(photos: readonly (Uint8Array | string)[], fields: Readonly<Record<string, unknown>> = {}): FormData {
  const data = new FormData();
  for (const [i, photo] of photos.entries()) {
    if (typeof photo === "string") data.append("photos", photo);
    else data.append("photos", new File([new Uint8Array(photo)], `strand-${i}`));
  }
  for (const [name, value] of Object.entries(fields)) {
    data.append(name, typeof value === "string" ? value : JSON.stringify(value));
  }
  return data;
}

async function review(
  photos: readonly (Uint8Array | string)[],
  fields?: Readonly<Record<string, unknown>>,
): Promise<Response> {
  return app.request(PATH, { method: "POST", body: form(photos, fields) });
}

// from the darkest to the brightest, against clipping of the frame without bias: held by -2, 0 and +2
const held = evenScene(-10, 1.5, PIXELS);
const HELD_STOPS = 11.5;
const BIASES = [-2, 0, 2];
const TIMES = ["1/125", "1/30", "1/8"];
const settings = (i: number): Settings => ({ time: TIMES[i] as string, aperture: "8/1", iso: "100" });
const setOf = (take: (bias: number, i: number) => Promise<Uint8Array>) => Promise.all(BIASES.map(take));
const jpegs = (scene = held) => setOf((bias, i) => jpeg(scene, bias, settings(i)));

describe("POST /v1/brackets/review-photos", () => {
  it.each([
    ["JPEG of 8 bits", jpegs, { format: "jpeg", bitsPerChannel: 8, coding: "srgb" }],
    [
      "PNG of 16 bits",
      () => setOf((bias, i) => png16(held, bias, settings(i))),
      { format: "png", bitsPerChannel: 16, coding: "srgb" },
    ],
    [
      "TIFF of 16 bits",
      () => setOf((bias, i) => tiff16(held, bias, [1, [125, 30, 8][i] as number])),
      { format: "tiff", bitsPerChannel: 16, coding: "srgb" },
    ],
    [
      "PNG of 16 bits that counts by light",
      () => setOf((bias, i) => linearPng(held, bias, settings(i))),
      { format: "png", bitsPerChannel: 16, coding: "linear" },
    ],
  ])("finds the range of a known scene within a third of a stop from %s", async (_, take, kind) => {
    const read = await answer<Review>(review(await take()));
    expect(Math.abs(read.sceneRangeStops - HELD_STOPS)).toBeLessThan(1 / 3);
    expect(Math.abs(read.highlightStops - 1.5)).toBeLessThan(1 / 3);
    expect(read).toMatchObject({ sceneRangeIsMinimum: false, missing: [], biasFrom: "exposure" });
    expect(read.frames.map(({ biasStops }) => biasStops)).toEqual(BIASES);
    expect(read.photos).toEqual(
      [1 / 125, 1 / 30, 1 / 8].map((seconds, i) => ({
        name: `strand-${i}`,
        ...kind,
        widthPx: WIDTH,
        heightPx: PIXELS / WIDTH,
        exposure: { shutterSeconds: expect.closeTo(seconds, 6), aperture: 8, iso: 100 },
      })),
    );
    expect(read.assumptions).toContainEqual(expect.objectContaining({ field: "biasStops", value: "exposure" }));
    expect(read.assumptions).toContainEqual(expect.objectContaining({ field: "photos.coding", value: kind.coding }));
  });

  it("asks for -3 where the frame at -2 still clips", async () => {
    const read = await answer<Review>(review(await jpegs(evenScene(-8, 2.7, PIXELS))));
    expect(read.frames[0]?.clippedHighlightPercent).toBeGreaterThan(1);
    expect(read).toMatchObject({ sceneRangeIsMinimum: true, missing: [{ biasStops: -3, code: "highlights-clip" }] });
  });

  it("counts biases by ISO and aperture as well, whatever the order", async () => {
    const taken = await Promise.all([
      jpeg(held, 2, { time: "1/30", aperture: "8/1", iso: "400" }),
      jpeg(held, -2, { time: "1/30", aperture: "16/1", iso: "100" }),
      jpeg(held, 0, { time: "1/30", aperture: "8/1", iso: "100" }),
    ]);
    const read = await answer<Review>(review(taken));
    expect(read.frames.map(({ biasStops }) => biasStops)).toEqual([2, -2, 0]);
  });

  it("does without aperture and ISO where no photograph records them, and says so", async () => {
    const read = await answer<Review>(review(await setOf((bias, i) => jpeg(held, bias, { time: TIMES[i] as string }))));
    expect(read.frames.map(({ biasStops }) => biasStops)).toEqual(BIASES);
    expect(read.assumptions.map(({ field }) => field)).toEqual(
      expect.arrayContaining(["photos.aperture", "photos.iso"]),
    );
  });

  it("takes the recorded bias where a time is missing, and says so", async () => {
    const read = await answer<Review>(
      review(await setOf((bias, i) => jpeg(held, bias, { bias: `${bias}/1`, ...(i === 0 ? {} : { time: "1/60" }) }))),
    );
    expect(read.biasFrom).toBe("exposure-bias");
    expect(read.frames.map(({ biasStops }) => biasStops)).toEqual(BIASES);
  });

  it("lets given biases override what is recorded, as one list or one part each", async () => {
    const photos = await setOf((bias) => jpeg(held, bias, settings(1)));
    const listed = await answer<Review>(review(photos, { biasStops: BIASES }));
    expect(listed).toMatchObject({ biasFrom: "given", missing: [] });
    expect(Math.abs(listed.sceneRangeStops - HELD_STOPS)).toBeLessThan(1 / 3);
    const data = form(photos);
    for (const bias of BIASES) data.append("biasStops", String(bias));
    expect(await answer<Review>(app.request(PATH, { method: "POST", body: data }))).toEqual(listed);
  });

  it("uses options as the review of histograms does", async () => {
    const photos = await jpegs(evenScene(-8, 2.7, PIXELS));
    const read = await answer<Review>(review(photos, { options: { clippedTolerancePercent: 20 } }));
    expect(read.missing).toEqual([]);
  });

  it("notes a profile and another size, and goes on", async () => {
    const [first, second, third] = (await jpegs()) as [Uint8Array, Uint8Array, Uint8Array];
    const smaller = await sharp(second).resize(100, 50, { kernel: "nearest" }).keepExif().jpeg().toBuffer();
    const profiled = await sharp(third).keepExif().withIccProfile("p3").jpeg({ quality: 95 }).toBuffer();
    const read = await answer<Review>(review([first, smaller, profiled]));
    expect(read.assumptions.map(({ field }) => field)).toEqual(
      expect.arrayContaining(["photos.profile", "photos.size"]),
    );
  });

  it("gives the names of files on one line that reads one way", async () => {
    const [photo] = (await jpegs()) as [Uint8Array];
    const data = new FormData();
    data.append("photos", new File([new Uint8Array(photo)], "strand\u202egpj.exe\0\r\nX: y"));
    const { photos } = await answer<Review>(app.request(PATH, { method: "POST", body: data }));
    expect(photos[0]?.["name"]).toBe("strand gpj.exe X: y");
  });

  it("counts every pixel of every row once", async () => {
    const raw = { width: 7, height: 5, channels: 4 as const };
    const samples = new Uint8Array(7 * 5 * 4).map((_, i) => [10, 20, 30, 128][i % 4] as number);
    const file = new Blob([new Uint8Array(await sharp(samples, { raw }).png().toBuffer())]);
    const { histogram } = await photoReader().read(file);
    expect([histogram.red[10], histogram.green[20], histogram.blue[30]]).toEqual([35, 35, 35]);
    for (const bins of [histogram.red, histogram.green, histogram.blue]) {
      expect(bins.reduce((sum, count) => sum + count, 0)).toBe(35);
    }
  });
});

describe("the histogram of a picture", () => {
  it("is whole where the picture is too large to decode in one go", async () => {
    const size = 6000;
    const upper = {
      create: { width: size, height: size, channels: 3 as const, background: { r: 200, g: 100, b: 50 } },
    };
    const lower = { create: { width: size, height: size / 4, channels: 3 as const, background: { r: 9, g: 8, b: 7 } } };
    const band = await sharp(lower).png().toBuffer();
    const made = await sharp(upper)
      .composite([{ input: band, gravity: "south" }])
      .removeAlpha()
      .png({ compressionLevel: 1 })
      .toBuffer();
    const { histogram } = await photoReader().read(new Blob([new Uint8Array(made)]));
    expect([histogram.red[200], histogram.red[9]]).toEqual([size * size * 0.75, size * size * 0.25]);
    expect([histogram.blue[50], histogram.blue[7]]).toEqual([size * size * 0.75, size * size * 0.25]);
  });

  it("has three channels alike where the picture is grey", async () => {
    const samples = new Uint16Array(64).map((_, i) => i * 1000);
    const raw = { width: 8, height: 8, channels: 1 as const };
    const made = await sharp(samples, { raw }).toColourspace("grey16").png().toBuffer();
    const photo = await photoReader().read(new Blob([new Uint8Array(made)]));
    expect(photo.bitsPerChannel).toBe(16);
    expect(photo.histogram.red).toHaveLength(4096);
    expect(photo.histogram.blue).toEqual(photo.histogram.red);
    expect(photo.histogram.red[Math.round((63_000 * 4095) / 65_535)]).toBe(1);
  });
});

describe("what is refused", () => {
  const text = new TextEncoder();

  it("names each file that is no photograph", async () => {
    const [first, second] = (await jpegs()) as [Uint8Array, Uint8Array];
    const svg = text.encode('<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"/>');
    const cut = second.subarray(0, second.length / 2);
    const body = await problem(review([first, svg, text.encode("not a picture"), cut]), 400);
    expect(body.type).toBe("/problems/invalid-input");
    expect(body.errors?.map(({ pointer }) => pointer)).toEqual(["form:photos/1", "form:photos/2", "form:photos/3"]);
    expect(body.errors?.[0]?.allowed).toContain("JPEG, PNG or TIFF");
    expect(body.errors?.[2]?.detail).toContain("damaged");
  });

  it("names a picture of too many pixels, of none, of inks, and raw data", async () => {
    const [first] = (await jpegs()) as [Uint8Array];
    const inks = await sharp(first).toColourspace("cmyk").jpeg().toBuffer();
    const raw = withTiffTag(await tiff16(held, 0), 0xc612, 1, 0x0401);
    const preview = withTiffTag(await tiff16(held, 0), 0xfe, 4, 1);
    const huge = await pngOfClaimedSize(30_000, 30_000);
    const body = await problem(review([first, huge, await pngOfClaimedSize(0, 0), inks, raw, preview]), 400);
    expect(body.errors?.map(({ pointer }) => pointer)).toEqual([1, 2, 3, 4, 5].map((i) => `form:photos/${i}`));
    expect(body.errors?.[0]).toMatchObject({ received: "30000 × 30000 pixels", allowed: "1 to 100 million pixels" });
    expect(body.errors?.[2]).toMatchObject({ received: "cmyk" });
    expect(body.errors?.[3]).toMatchObject({ received: "raw data" });
    expect(body.errors?.[4]).toMatchObject({ received: "raw data" });
  });

  it("names the photographs whose bias is unknown", async () => {
    const [first, , third] = (await jpegs()) as [Uint8Array, Uint8Array, Uint8Array];
    const body = await problem(review([first, await jpeg(held, 0), third]), 400);
    expect(body.errors).toMatchObject([{ pointer: "form:photos/1", allowed: expect.stringContaining("biasStops") }]);
  });

  it("points into the fields of the form", async () => {
    const photos = await jpegs();
    const fields = (given: Readonly<Record<string, unknown>>) => refusedFields(review(photos, given));
    expect(await fields({ biasStops: [0, 2] })).toEqual(["form:biasStops"]);
    expect((await problem(review(photos, { biasStops: "two" }), 400)).errors).toEqual([
      {
        pointer: "form:biasStops/0",
        detail: expect.not.stringContaining("required"),
        received: "two",
        allowed: "a number",
      },
    ]);
    expect(await fields({ biasStops: [-2, 0, 99] })).toEqual(["form:biasStops/2"]);
    expect(await fields({ biasStops: [-2, 0, "two"] })).toEqual(["form:biasStops/2"]);
    expect(await fields({ options: { camera: { iso: 0 } } })).toEqual(["form:options/camera/iso"]);
    expect(await fields({ options: { overlap: 1 } })).toEqual(["form:options/overlap"]);
    expect(await fields({ options: { camera: { dynamicRangeStops: 11, footroomStops: 6 } } })).toEqual([
      "form:options/camera/footroomStops",
    ]);
    expect(await fields({ options: "{" })).toEqual(["form:options"]);
    expect(await fields({ note: "hello" })).toEqual(["form:note"]);
    expect(await refusedFields(review(["a text"]))).toEqual(["form:photos/0"]);
    expect(await refusedFields(review([new Uint8Array(0)]))).toEqual(["form:photos/0"]);
    expect(await refusedFields(review([], { biasStops: [0] }))).toEqual(["form:photos"]);
    expect(await refusedFields(review(Array.from({ length: 16 }, () => new Uint8Array(1))))).toEqual(["form:photos"]);
  });

  it("says what came and what is allowed", async () => {
    const body = await problem(review(await jpegs(), { options: { clippedTolerancePercent: 51 } }), 400);
    expect(body.errors).toMatchObject([{ received: 51, allowed: "at most 50" }]);
  });

  it("refuses a photograph over 25 MiB by name, and a body over the whole by its announced length", async () => {
    const [first] = (await jpegs()) as [Uint8Array];
    const large = await problem(review([first, new Uint8Array(25 * 1024 * 1024 + 1)]), 413);
    expect(large.errors?.map(({ pointer }) => pointer)).toEqual(["form:photos/1"]);
    const headers = {
      "Content-Type": "multipart/form-data; boundary=x",
      "Content-Length": String(15 * 25 * 1024 * 1024 + 256 * 1024 + 1),
    };
    await problem(app.request(PATH, { method: "POST", headers, body: "" }), 413);
  });

  it("takes a form here alone, and nothing but a form here", async () => {
    const json = await app.request(PATH, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: "{}",
    });
    expect(json.headers.get("Accept-Post")).toBe("multipart/form-data");
    await problem(json, 415);
    await problem(app.request("/v1/brackets/review", { method: "POST", body: form([]) }), 415);
  });

  it("says that a form is cut short", async () => {
    const headers = { "Content-Type": "multipart/form-data; boundary=x" };
    const body = await problem(app.request(PATH, { method: "POST", headers, body: "--x\r\nhello" }), 400);
    expect(body).toMatchObject({ type: "/problems/malformed-request", detail: expect.stringContaining("form") });
  });

  it("takes a form while twenty others are still on their way", async () => {
    const ends: (() => void)[] = [];
    const stalled = Array.from({ length: 20 }, () => {
      const body = new ReadableStream({ start: (controller) => void ends.push(() => controller.close()) });
      const headers = { "Content-Type": "multipart/form-data; boundary=x" };
      return app.request(PATH, { method: "POST", headers, body, duplex: "half" } as RequestInit);
    });
    expect((await review(await jpegs())).status).toBe(200);
    for (const end of ends) end();
    for (const response of stalled) await problem(response, 400);
  });

  it("asks the form to come back that finds sixteen complete ones before it", async () => {
    const gates: (() => void)[] = [];
    const busy = testApp({
      photos: {
        read: () =>
          new Promise((_, reject) =>
            gates.push(() => reject(new UnreadablePhoto("not today", "a strand", "a photograph"))),
          ),
      },
    });
    const ask = () => busy.request(PATH, { method: "POST", body: form([new Uint8Array(9)]) });
    const taken = Array.from({ length: 16 }, ask);
    await vi.waitFor(() => expect(gates).toHaveLength(4));
    // those that wait have all come by then
    await new Promise((resolve) => setTimeout(resolve, 100));
    const turned = await ask();
    expect(turned.headers.get("Retry-After")).toBe("5");
    await problem(turned, 503);
    const open = setInterval(() => {
      for (const gate of gates.splice(0)) gate();
    }, 5);
    for (const response of taken) await problem(response, 400);
    clearInterval(open);
  });

  it("stops decoding at the deadline", async () => {
    let given: AbortSignal | undefined;
    const read = (_: Blob, signal?: AbortSignal): Promise<never> => {
      given = signal;
      return new Promise((_, reject) => signal?.addEventListener("abort", () => reject(signal.reason)));
    };
    const slow = testApp({ photos: { read } }, { policies: { deadlineMs: 200 } });
    await problem(slow.request(PATH, { method: "POST", body: form([new Uint8Array(9)]) }), 503);
    expect(given?.aborted).toBe(true);
  });

  it("is unavailable where there is no decoder", async () => {
    const without = testApp();
    await problem(without.request(PATH, { method: "POST", body: form(await jpegs()) }), 503);
  });
});

describe("the SDK", () => {
  it("sends photographs with options and biases over a socket", async () => {
    const server = await startServer(app);
    try {
      const { brackets } = createFieldstop({ baseUrl: server.baseUrl });
      const photos = (await jpegs()).map((bytes, i) => new File([new Uint8Array(bytes)], `${i}.jpg`));
      const read = await brackets.reviewBracketPhotos(photos, { biasStops: BIASES, overlapStops: 2 });
      expect(read).toMatchObject({ biasFrom: "given", missing: [] });
      expect(read.photos.map(({ name }) => name)).toEqual(["0.jpg", "1.jpg", "2.jpg"]);
      expect(read.assumptions.map(({ field }) => field)).not.toContain("overlapStops");
      const recorded = await brackets.reviewBracketPhotos(photos);
      expect(recorded.biasFrom).toBe("exposure");
    } finally {
      await server.close();
    }
  });
});
