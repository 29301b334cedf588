import { deflateSync } from "node:zlib";
import { checkedPicture } from "@fieldstop/api/photos/checked-picture";
import { decodePhoto } from "@fieldstop/api/photos/decode-photo";
import { DecoderProcess } from "@fieldstop/api/photos/decoder-process";
import { photoReader } from "@fieldstop/api/photos/sharp-reader";
import { UnreadablePhoto } from "@fieldstop/api/photos/unreadable-photo";
import fc from "fast-check";
import sharp from "sharp";
import { describe, expect, it } from "vitest";
import { evenScene } from "../core/bracketing/synthetic-scene";
import { jpeg, PIXELS, png16, pngChunk, pngOfClaimedSize, tiff16, withTiffTag } from "./photographs";

const scene = evenScene(-10, 1.5, PIXELS);
const SETTINGS = { time: "1/125", aperture: "8/1", iso: "100" };

/** Either a photograph with every pixel counted, or undefined where it is refused; all else fails the test. */
async function readOrRefused(bytes: Uint8Array): Promise<{ readonly format: string } | undefined> {
  try {
    const photo = await decodePhoto(bytes);
    const counted = photo.histogram.red.reduce((sum, count) => sum + count, 0);
    expect(counted).toBe(photo.widthPx * photo.heightPx);
    return photo;
  } catch (error) {
    expect(error).toBeInstanceOf(UnreadablePhoto);
    return undefined;
  }
}

const refusal = async (bytes: Uint8Array): Promise<string> =>
  decodePhoto(bytes).then(
    () => "read",
    (error: Error) => error.message,
  );

/** A JPEG in several scans, the last of which comes as often again as told. */
async function withScans(more: number): Promise<Uint8Array> {
  const made = await sharp({ create: { width: 64, height: 64, channels: 3, background: "#806040" } })
    .jpeg({ progressive: true })
    .toBuffer();
  const last = made.subarray(made.lastIndexOf(Buffer.from([0xff, 0xda])), -2);
  return Buffer.concat([made.subarray(0, -2), ...Array<Buffer>(more).fill(last), made.subarray(-2)]);
}

/** A picture that takes long to decode and little to send. */
const slowPicture = sharp({ create: { width: 7000, height: 7000, channels: 3, background: "#806040" } })
  .jpeg({ progressive: true })
  .toBuffer()
  .then((made) => new Blob([new Uint8Array(made)]));

const segment = (marker: number, content: Uint8Array): Buffer => {
  const head = Buffer.from([0xff, marker, 0, 0]);
  head.writeUInt16BE(content.length + 2, 2);
  return Buffer.concat([head, content]);
};

function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch {
    return false;
  }
}

describe("the bounds of a picture", () => {
  it.each([
    [100_000_000, 1, "this picture is too long"],
    [1, 100_000_000, "this picture is too long"],
    [50_001, 100, "this picture is too long"],
    [10_001, 10_000, "this picture is too large"],
    [0, 10, "this picture is too large"],
  ])("are told by the header of a PNG of %i × %i", async (width, height, detail) => {
    expect(await refusal(await pngOfClaimedSize(width, height))).toBe(detail);
  });

  it("hold for a second header, and for the header behind another chunk", async () => {
    const small = Buffer.from(await pngOfClaimedSize(1, 1));
    const huge = Buffer.from(await pngOfClaimedSize(100_000_000, 1));
    const header = huge.subarray(8, 33);
    expect(await refusal(Buffer.concat([small.subarray(0, 33), header, small.subarray(33)]))).toContain("too long");
    const behind = Buffer.concat([huge.subarray(0, 8), pngChunk("teXt", new Uint8Array(0)), huge.subarray(8)]);
    expect(await refusal(behind)).toContain("damaged");
  });

  it("are narrower for a PNG that is interlaced, which is decoded as a whole", async () => {
    const interlaced = Buffer.from(await pngOfClaimedSize(5001, 5000));
    interlaced[28] = 1;
    expect(await refusal(interlaced)).toBe("this interlaced picture is too large");
    const small = await sharp({ create: { width: 9, height: 7, channels: 3, background: "red" } })
      .png({ progressive: true })
      .toBuffer();
    expect(await readOrRefused(small)).toMatchObject({ widthPx: 9, heightPx: 7 });
  });

  it("are told by each frame of a JPEG", async () => {
    const made = Buffer.from(await jpeg(scene, 0));
    const frame = made.indexOf(Buffer.from([0xff, 0xc0]));
    const length = made.readUInt16BE(frame + 2);
    const huge = Buffer.from(made.subarray(frame, frame + 2 + length));
    huge.writeUInt16BE(65_535, 5);
    const twice = Buffer.concat([made.subarray(0, frame + 2 + length), huge, made.subarray(frame + 2 + length)]);
    expect(await refusal(twice)).toBe("this picture is too long");
  });

  it("count the scans of a JPEG", async () => {
    expect(await readOrRefused(await withScans(0))).toMatchObject({ format: "jpeg" });
    expect(await refusal(await withScans(32))).toBe("this picture is stored in too many scans");
  });

  it("hold a TIFF to its channels, its compression and the size of its tiles", async () => {
    const made = await tiff16(scene, 0);
    expect(await refusal(withTiffTag(made, 277, 3, 65_535))).toBe("this picture has too many channels");
    expect(await refusal(withTiffTag(made, 259, 3, 34_712))).toBe("this TIFF is compressed in another way");
    expect(await refusal(withTiffTag(withTiffTag(made, 322, 4, 60_000), 323, 4, 60_000))).toBe(
      "a tile of this picture is too large",
    );
    expect(await refusal(withTiffTag(made, 256, 4, 0xffffffff))).toBe("this picture is too large");
    // a size as a floating-point number
    expect(await refusal(withTiffTag(made, 256, 11, 200))).toContain("damaged");
  });
});

describe("what the decoder sees", () => {
  it("has no profile, text or thumbnail of a PNG, which may unpack without end", async () => {
    const made = Buffer.from(await png16(scene, 0, SETTINGS));
    const bomb = deflateSync(Buffer.alloc(60_000_000));
    const named = (type: string) => pngChunk(type, Buffer.concat([Buffer.from("strand\0\0"), bomb]));
    const texts = Array.from({ length: 50 }, () => named("zTXt"));
    const spoilt = Buffer.concat([made.subarray(0, 33), named("iCCP"), ...texts, made.subarray(33)]);
    const { picture, hasProfile } = checkedPicture("png", spoilt);
    expect(hasProfile).toBe(true);
    expect(picture.length).toBeLessThanOrEqual(made.length);
    expect(await decodePhoto(spoilt)).toEqual({ ...(await decodePhoto(made)), hasProfile: true });
  });

  it("has no metadata of a JPEG but what tells its colours", async () => {
    const made = Buffer.from(await jpeg(scene, 0, SETTINGS));
    const asides = [0xe1, 0xe2, 0xed, 0xef, 0xfe].map((marker) => segment(marker, Buffer.alloc(60_000, "x")));
    const adobe = segment(0xee, Buffer.from("Adobe\0d\0\0\0\0\x01", "latin1"));
    const profile = segment(0xe2, Buffer.from("ICC_PROFILE\0\x01\x01x", "latin1"));
    const spoilt = Buffer.concat([made.subarray(0, 2), ...asides, profile, adobe, made.subarray(2)]);
    const { picture, hasProfile, tagged } = checkedPicture("jpeg", spoilt);
    expect(hasProfile).toBe(true);
    expect(Buffer.from(picture).includes("Adobe")).toBe(true);
    expect(Buffer.from(picture).includes("Exif")).toBe(false);
    expect(tagged?.length).toBeGreaterThan(0);
    expect(picture.length).toBeLessThan(made.length + adobe.length);
    expect(await decodePhoto(spoilt)).toEqual({ ...(await decodePhoto(made)), hasProfile: true });
  });

  it("is the first page of a TIFF, where pages follow each other in a circle or by the hundred thousand", async () => {
    const made = Buffer.from(await tiff16(scene, 0, [1, 125]));
    const directory = made.readUInt32LE(4);
    const next = directory + 2 + 12 * made.readUInt16LE(directory);
    const circle = Buffer.from(made);
    circle.writeUInt32LE(directory, next);
    const pages = Buffer.alloc(100_000 * 6);
    const start = made.length;
    for (let i = 0; i < 100_000; i++) pages.writeUInt32LE(start + 6 * (i + 1), 6 * i + 2);
    const many = Buffer.concat([made, pages]);
    many.writeUInt32LE(start, next);
    const read = await decodePhoto(made);
    expect(await decodePhoto(circle)).toEqual(read);
    expect(await decodePhoto(many)).toEqual(read);
  });
});

describe("a file that lies", () => {
  it.each(["gif", "webp", "avif"] as const)("is refused by its first bytes: %s", async (format) => {
    const made = await sharp({ create: { width: 9, height: 9, channels: 3, background: "red" } })
      .toFormat(format)
      .toBuffer();
    expect(await refusal(made)).toContain("not a photograph");
  });

  it("is read or refused, wherever it is cut", async () => {
    for (const made of [await jpeg(scene, 0, SETTINGS), await png16(scene, 0), await tiff16(scene, 0, [1, 125])]) {
      for (const share of [0.001, 0.01, 0.05, 0.2, 0.5, 0.9, 0.99]) {
        await readOrRefused(made.subarray(0, Math.ceil(made.length * share)));
      }
      for (let bytes = 0; bytes < 60; bytes += 3) expect(await readOrRefused(made.subarray(0, bytes))).toBeUndefined();
    }
  });

  it("is read or refused, whatever bytes of its header are others", async () => {
    const files = [await jpeg(scene, 0, SETTINGS), await png16(scene, 0, SETTINGS), await tiff16(scene, 0, [1, 125])];
    const spoilt = fc
      .record({
        file: fc.constantFrom(...files),
        others: fc.array(fc.tuple(fc.nat(400), fc.nat(255)), { minLength: 1, maxLength: 4 }),
        fromEnd: fc.boolean(),
      })
      .map(({ file, others, fromEnd }) => {
        const bytes = Buffer.from(file);
        for (const [at, byte] of others) bytes[fromEnd ? bytes.length - 1 - at : at] = byte;
        return bytes;
      });
    let read = 0;
    await fc.assert(
      fc.asyncProperty(spoilt, async (bytes) => {
        if ((await readOrRefused(bytes)) !== undefined) read++;
      }),
      { numRuns: 200 },
    );
    expect(read).toBeGreaterThan(0);
  });

  it("records an exposure that goes in a circle, or is a few billion numbers long", async () => {
    const made = Buffer.from(await jpeg(scene, 0));
    const tiff = Buffer.alloc(64);
    tiff.write("II*\0", 0, "latin1");
    tiff.writeUInt32LE(8, 4);
    tiff.writeUInt16LE(3, 8);
    for (const [i, [tag, type, count, value]] of [
      [0x8769, 4, 1, 8],
      [0x829a, 5, 0xfffffff0, 8],
      [0x8827, 3, 0xfffffff0, 8],
    ].entries() as IterableIterator<[number, [number, number, number, number]]>) {
      tiff.writeUInt16LE(tag, 10 + 12 * i);
      tiff.writeUInt16LE(type, 12 + 12 * i);
      tiff.writeUInt32LE(count, 14 + 12 * i);
      tiff.writeUInt32LE(value, 18 + 12 * i);
    }
    tiff.writeUInt32LE(8, 46);
    const exif = segment(0xe1, Buffer.concat([Buffer.from("Exif\0\0"), tiff]));
    expect(await readOrRefused(Buffer.concat([made.subarray(0, 2), exif, made.subarray(2)]))).toBeDefined();
  });
});

describe("the decoder's process", () => {
  it("ends with its work when nobody waits any more, while other photographs are read", async () => {
    const small = new Blob([new Uint8Array(await jpeg(scene, 0, SETTINGS))]);
    const [decoder, reader] = [new DecoderProcess(), photoReader()];
    const control = new AbortController();
    // both have started
    await Promise.all([decoder.decode(small, control.signal), reader.read(small)]);
    const pid = decoder.pid as number;
    let isDone = false;
    const slow = decoder.decode(await slowPicture, control.signal).finally(() => {
      isDone = true;
    });
    slow.catch(() => {});
    expect(await reader.read(small)).toMatchObject({ format: "jpeg", exposure: { iso: 100 } });
    expect(isDone).toBe(false);
    expect(isRunning(pid)).toBe(true);
    const reason = new Error("the deadline");
    control.abort(reason);
    await expect(slow).rejects.toBe(reason);
    expect([decoder.hasEnded, isRunning(pid)]).toEqual([true, false]);
  });

  it("ends for a picture that takes too long, which is named", async () => {
    const reader = photoReader({ longestDecodeMs: 1 });
    const small = new Blob([new Uint8Array(await jpeg(scene, 0))]);
    await expect(reader.read(small)).rejects.toMatchObject({
      name: "UnreadablePhoto",
      message: "this photograph takes too long to decode",
    });
  });

  it("reads one photograph after another, and is replaced where one ends it", async () => {
    const small = new Blob([new Uint8Array(await jpeg(scene, 0))]);
    const forever = new AbortController().signal;
    const decoder = new DecoderProcess();
    const first = await decoder.decode(small, forever);
    expect(await decoder.decode(new Blob([]), forever).catch((error) => error)).toBeInstanceOf(UnreadablePhoto);
    expect(await decoder.decode(small, forever)).toEqual(first);
    const ended = decoder.decode(await slowPicture, forever);
    process.kill(decoder.pid as number, "SIGSEGV");
    await expect(ended).rejects.toMatchObject({ name: "UnreadablePhoto" });
    expect(decoder.hasEnded).toBe(true);
  });
});
