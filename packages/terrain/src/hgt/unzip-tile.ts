import { Unzip, type UnzipFile, UnzipPassThrough } from "fflate";
import { inflated } from "../tiles/shared-inflater";
import { TileError } from "../tiles/tile-error";

/**
 * The one `.hgt` file in a zip archive; what was deflated lies at the start of shared memory. It is inflated by the platform's own zlib,
 * which takes a tenth of the time and does it beside the event loop.
 *
 * @param largest bytes that no tile exceeds: nothing larger is unpacked
 * @throws TileError for an archive of none, of several, or of too large a one; Error for one that does not open
 */
export async function unzipTile(name: string, archive: Uint8Array, largest: number): Promise<Uint8Array> {
  const found: UnzipFile[] = [];
  const parts: Uint8Array[] = [];
  const unzip = new Unzip((file) => {
    if (!/\.hgt$/i.test(file.name)) return;
    found.push(file);
    file.ondata = (error, part) => {
      if (error !== null) throw error;
      parts.push(part);
    };
    if (found.length === 1) file.start();
  });
  unzip.register(UnzipPassThrough);
  unzip.register(Deflated);
  // the whole archive at once: what is in it is told before this returns
  unzip.push(archive, true);
  const [file] = found;
  if (file === undefined) throw new TileError(name, "no .hgt file in the packing");
  if (found.length > 1) throw new TileError(name, "more than one .hgt file in the packing");
  if ((file.originalSize ?? 0) > largest) throw new TileError(name, "the packed tile is too large for an SRTM tile");
  if (file.compression === Deflated.compression) return inflated("deflate", parts, largest);
  const [whole] = parts;
  return parts.length === 1 && whole !== undefined ? whole : Buffer.concat(parts);
}

/** Hands deflated files over as they are. */
class Deflated extends UnzipPassThrough {
  // PKWARE APPNOTE.TXT, 4.4.5: method 8 is deflate
  static override readonly compression = 8;
}
