import { setImmediate } from "node:timers/promises";
import type { Histogram } from "@fieldstop/core";
import exifr from "exifr";
import sharp, { type Metadata, type SharpOptions } from "sharp";
import { inTurn } from "../middleware/in-turn";
import { isLinearPng, photoFormat } from "./photo-format";
import { type Photo, type PhotoReader, type RecordedExposure, UnreadablePhoto } from "./photo-reader";

const MOST_PIXELS = 100_000_000;
/** Decoded at once, so that a picture of 100 megapixels does not take 600 MB. */
const STRIP_PIXELS = 32_000_000;
/** Counted between two looks at other requests: a few milliseconds. */
const SAMPLES_AT_ONCE = 1 << 18;
const DECODED_AT_ONCE = 2;
const LONGEST_DECODE_SECONDS = 60;
const BINS_OF_16_BITS = 4096;

const FORMATS = "a JPEG, PNG or TIFF photograph";
const COLOURS: ReadonlySet<string> = new Set(["srgb", "rgb", "rgb16", "b-w", "grey16"]);

/** Profiles stay out of it: a histogram is of the codes as they are stored. */
const OPENING: SharpOptions = { ignoreIcc: true, failOn: "error" };

/** Decodes photographs off the event loop, two at a time over all requests. */
export function photoReader(): PhotoReader {
  sharp.cache(false);
  const turn = inTurn(DECODED_AT_ONCE);
  return { read: (file) => turn(async () => readPhoto(new Uint8Array(await file.arrayBuffer()))) };
}

async function readPhoto(bytes: Uint8Array): Promise<Photo> {
  const format = photoFormat(bytes);
  if (format === undefined) {
    throw new UnreadablePhoto("this file is not a photograph that can be read here", "another kind of file", FORMATS);
  }
  const header = await decoding(sharp(bytes, { ...OPENING, limitInputPixels: false }).metadata());
  const bitsPerChannel = bitsOf(header);
  requireSize(header);
  const tags = await recordedTags(bytes);
  if (format === "tiff" && isRaw(bytes, tags)) {
    throw new UnreadablePhoto("this is raw data, not a developed photograph", "raw data", FORMATS);
  }
  const linear = tags["Gamma"] === 1 || (format === "png" && isLinearPng(bytes));
  return {
    format,
    widthPx: header.width,
    heightPx: header.height,
    bitsPerChannel,
    hasProfile: header.icc !== undefined,
    coding: linear ? "linear" : "srgb",
    histogram: await histogramOf(bytes, header, bitsPerChannel),
    exposure: exposureOf(tags),
  };
}

function bitsOf({ depth, space }: Metadata): 8 | 16 {
  if (!COLOURS.has(space)) {
    throw new UnreadablePhoto("this picture is not in red, green and blue", space, "RGB or grey");
  }
  if (depth !== "uchar" && depth !== "ushort") {
    throw new UnreadablePhoto("this picture has another depth", depth, "8 or 16 bits a channel");
  }
  return depth === "uchar" ? 8 : 16;
}

function requireSize({ width, height }: Metadata): void {
  if (width * height <= MOST_PIXELS && width * height > 0) return;
  const allowed = `1 to ${MOST_PIXELS / 1e6} million pixels`;
  throw new UnreadablePhoto("this picture is too large", `${width} × ${height} pixels`, allowed);
}

const TAGS = [
  "ExposureTime",
  "FNumber",
  "ISO",
  "ExposureCompensation",
  "Gamma",
  "DNGVersion",
  "SubfileType",
  "PhotometricInterpretation",
];

type Tags = Readonly<Record<string, unknown>>;

/** Tags of the first picture in the file; none where they cannot be read, since a photograph may have lost them. */
async function recordedTags(bytes: Uint8Array): Promise<Tags> {
  const options = { pick: TAGS, translateValues: false, reviveValues: false };
  return (await exifr.parse(bytes, options).catch(() => undefined)) ?? {};
}

// TIFF/EP and DNG 1.7: subfile type 1 is a preview, 32803 a colour filter array, 34892 linear raw; "CR" at byte 8 marks raw data as well
function isRaw(bytes: Uint8Array, tags: Tags): boolean {
  const kind = tags["PhotometricInterpretation"];
  return (
    tags["DNGVersion"] !== undefined ||
    tags["SubfileType"] === 1 ||
    kind === 32_803 ||
    kind === 34_892 ||
    (bytes[8] === 0x43 && bytes[9] === 0x52)
  );
}

function exposureOf(tags: Tags): RecordedExposure {
  const positive = (value: unknown): number | undefined =>
    typeof value === "number" && value > 0 && Number.isFinite(value) ? value : undefined;
  const shutterSeconds = positive(tags["ExposureTime"]);
  // a lens without contacts leaves 0
  const aperture = positive(tags["FNumber"]);
  const speed = tags["ISO"];
  const iso = positive(Array.isArray(speed) || speed instanceof Uint16Array ? speed[0] : speed);
  const bias = tags["ExposureCompensation"];
  return {
    ...(shutterSeconds === undefined ? {} : { shutterSeconds }),
    ...(aperture === undefined ? {} : { aperture }),
    ...(iso === undefined ? {} : { iso }),
    ...(typeof bias === "number" && Number.isFinite(bias) ? { biasStops: bias } : {}),
  };
}

async function histogramOf(bytes: Uint8Array, { width, height }: Metadata, bits: 8 | 16): Promise<Histogram> {
  const codes = 2 ** bits;
  const counts = [new Uint32Array(codes), new Uint32Array(codes), new Uint32Array(codes)] as const;
  const rows = Math.max(1, Math.floor(STRIP_PIXELS / width));
  for (let top = 0; top < height; top += rows) {
    const strip = sharp(bytes, { ...OPENING, limitInputPixels: MOST_PIXELS })
      .extract({ left: 0, top, width, height: Math.min(rows, height - top) })
      .removeAlpha()
      .toColourspace(bits === 8 ? "srgb" : "rgb16")
      .raw({ depth: bits === 8 ? "uchar" : "ushort" })
      .timeout({ seconds: LONGEST_DECODE_SECONDS });
    const { data, info } = await decoding(strip.toBuffer({ resolveWithObject: true }));
    const samples = bits === 8 ? data : new Uint16Array(data.buffer, data.byteOffset, data.byteLength / 2);
    await countInto(counts, samples, info.channels);
  }
  const [red, green, blue] = counts.map((each) => Array.from(bits === 8 ? each : fold(each))) as [
    number[],
    number[],
    number[],
  ];
  return { red, green, blue };
}

type Counts = readonly [Uint32Array, Uint32Array, Uint32Array];

async function countInto(counts: Counts, samples: Uint8Array | Uint16Array, channels: number): Promise<void> {
  const [red, green, blue] = counts;
  const second = channels >= 3 ? 1 : 0;
  const third = channels >= 3 ? 2 : 0;
  const slice = SAMPLES_AT_ONCE - (SAMPLES_AT_ONCE % channels);
  for (let from = 0; from < samples.length; from += slice) {
    const end = Math.min(samples.length, from + slice);
    for (let i = from; i < end; i += channels) {
      (red[samples[i] as number] as number)++;
      (green[samples[i + second] as number] as number)++;
      (blue[samples[i + third] as number] as number)++;
    }
    await setImmediate();
  }
}

/** Codes of 16 bits into fewer bins, each code in the bin that it rounds to. */
function fold(counts: Uint32Array): Uint32Array {
  const bins = new Uint32Array(BINS_OF_16_BITS);
  for (let code = 0; code < counts.length; code++) {
    const bin = Math.round((code * (BINS_OF_16_BITS - 1)) / (counts.length - 1));
    bins[bin] = (bins[bin] as number) + (counts[code] as number);
  }
  return bins;
}

async function decoding<T>(work: Promise<T>): Promise<T> {
  try {
    return await work;
  } catch {
    throw new UnreadablePhoto("this photograph is damaged or cut short", "a file that cannot be decoded", FORMATS);
  }
}
