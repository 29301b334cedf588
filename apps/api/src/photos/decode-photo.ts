import sharp, { type Metadata } from "sharp";
import { checkedPicture } from "./checked-picture";
import { photoFormat } from "./photo-format";
import type { Photo } from "./photo-reader";
import { decoding, histogramOf, OPENING } from "./picture-histogram";
import { exposureOf, isRaw, recordedTags } from "./recorded-tags";
import { TAKEN_FORMATS, UnreadablePhoto } from "./unreadable-photo";

const COLOURS: ReadonlySet<string> = new Set(["srgb", "rgb", "rgb16", "b-w", "grey16"]);

/**
 * Decode a photograph. Nothing ends this but the end of the process: it is for a process of its own.
 * @throws UnreadablePhoto
 */
export async function decodePhoto(bytes: Uint8Array): Promise<Photo> {
  const format = photoFormat(bytes);
  if (format === undefined) {
    throw new UnreadablePhoto(
      "this file is not a photograph that can be read here",
      "another kind of file",
      TAKEN_FORMATS,
    );
  }
  const { picture, tagged, hasProfile, isLinear } = checkedPicture(format, bytes);
  const header = await decoding(sharp(picture, OPENING).metadata());
  const bitsPerChannel = bitsOf(header);
  const tags = await recordedTags(tagged);
  if (format === "tiff" && isRaw(bytes, tags)) {
    throw new UnreadablePhoto("this is raw data, not a developed photograph", "raw data", TAKEN_FORMATS);
  }
  return {
    format,
    widthPx: header.width,
    heightPx: header.height,
    bitsPerChannel,
    hasProfile,
    coding: isLinear || tags["Gamma"] === 1 ? "linear" : "srgb",
    histogram: await histogramOf(picture, header, bitsPerChannel),
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
