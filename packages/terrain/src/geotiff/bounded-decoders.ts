import { ZSTDDecoder } from "zstddec";
import { requirePiece } from "./slice";
import { inflate, lzw, packBits, type Unpack } from "./unpack";

type Library = typeof import("geotiff");
type Base = Library["BaseDecoder"];
type ParametersOf = NonNullable<Parameters<Library["addDecoder"]>[2]>;

// TIFF 6.0, its supplements, and what GDAL has added: values of the tag Compression
const NONE = [undefined, 1];
const LZW = 5;
const DEFLATE = [8, 32_946];
const PACK_BITS = 32_773;
const ZSTANDARD = 50_000;
/** JPEG, LERC, WebP: what comes out of them cannot be bounded beforehand. */
const REFUSED = [6, 7, 34_887, 50_001];

const zstd = new ZSTDDecoder();

/** Have the library unpack no more of a file than its header says. */
export function boundDecoders(library: Library): void {
  const add = (codes: number | (number | undefined)[], unpack: Unpack, ready?: () => Promise<void>) => {
    const decoder = async () => {
      await ready?.();
      return boundedDecoder(library.BaseDecoder, unpack);
    };
    library.addDecoder(codes, decoder, parametersOf);
  };
  add(NONE, (bytes) => bytes);
  add(LZW, lzw);
  add(DEFLATE, inflate);
  add(PACK_BITS, packBits);
  add(
    ZSTANDARD,
    (packed, mostBytes) => zstd.decode(packed, mostBytes),
    async () => void (await zstd.init()),
  );
  add(REFUSED, () => {
    throw new Error("of its packings Deflate, LZW, PackBits and Zstandard are read");
  });
}

function boundedDecoder(Decoder: Base, unpack: Unpack): Base {
  return class extends Decoder {
    override decodeBlock(packed: ArrayBufferLike): ArrayBufferLike {
      const { tileWidth, tileHeight, bitsPerSample } = this.parameters;
      const bits = typeof bitsPerSample === "number" ? bitsPerSample : Number(bitsPerSample[0]);
      const mostBytes = Math.ceil((tileWidth * bits) / 8) * tileHeight;
      requirePiece(mostBytes);
      return new Uint8Array(unpack(new Uint8Array(packed), mostBytes)).buffer;
    }
  };
}

/** What the header says of an inner tile or a strip; a strip may claim more rows than there are. */
const parametersOf: ParametersOf = async (directory) => {
  const value = async (tag: Parameters<typeof directory.loadValue>[0]) => Number(await directory.loadValue(tag));
  const isTiled = !directory.hasTag("StripOffsets");
  const rows = (await value("ImageLength")) || 0;
  const height = isTiled ? await value("TileLength") : Math.min(rows, (await value("RowsPerStrip")) || rows);
  return {
    tileWidth: await value(isTiled ? "TileWidth" : "ImageWidth"),
    tileHeight: height,
    planarConfiguration: (await value("PlanarConfiguration")) || 1,
    bitsPerSample: (await directory.loadValue("BitsPerSample")) as number[],
    predictor: (await value("Predictor")) || 1,
  };
};
