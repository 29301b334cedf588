import { inflateRaw } from "node:zlib";
import { type AsyncFlateStreamHandler, type FlateError, Unzip, type UnzipDecoder, UnzipPassThrough } from "fflate";
import { TileError } from "./tile-error";

/**
 * The one `.hgt` file in a zip archive. It is inflated by the platform's own zlib, which takes a tenth of the time and does it beside
 * the event loop.
 *
 * @param largest bytes that no tile exceeds: nothing larger is unpacked
 * @throws TileError for an archive of none, of several, or of too large a one; Error for one that does not open
 */
export function unzipTile(name: string, archive: Uint8Array, largest: number): Promise<Uint8Array> {
  return new Promise((resolve, reject) => {
    let found = 0;
    const unzip = new Unzip((file) => {
      if (!/\.hgt$/i.test(file.name)) return;
      found++;
      if ((file.originalSize ?? 0) > largest) {
        reject(new TileError(name, "the packed tile is too large for an SRTM tile"));
        return;
      }
      const parts: Uint8Array[] = [];
      file.ondata = (error, chunk, final) => {
        if (error !== null) return reject(error);
        parts.push(chunk);
        if (!final) return;
        if (found > 1) reject(new TileError(name, "more than one .hgt file in the packing"));
        else resolve(parts.length === 1 ? chunk : Buffer.concat(parts));
      };
      file.start();
    });
    unzip.register(UnzipPassThrough);
    unzip.register(inflateUpTo(largest));
    unzip.push(archive, true);
    if (found === 0) reject(new TileError(name, "no .hgt file in the packing"));
  });
}

function inflateUpTo(largest: number) {
  return class PlatformInflate implements UnzipDecoder {
    // PKWARE APPNOTE.TXT, 4.4.5: method 8 is deflate
    static readonly compression = 8;
    ondata: AsyncFlateStreamHandler = () => {};
    readonly #parts: Uint8Array[] = [];

    push(chunk: Uint8Array, final: boolean): void {
      this.#parts.push(chunk);
      if (!final) return;
      inflateRaw(Buffer.concat(this.#parts), { maxOutputLength: largest + 1 }, (error, bytes) => {
        this.ondata(error as FlateError | null, bytes, true);
      });
    }
  };
}
