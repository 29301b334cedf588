import type { FileHandle } from "node:fs/promises";
import type { GeoTIFF } from "geotiff";
import { openPlainFile } from "../tiles/plain-file";
import { geoTiffLibrary } from "./geotiff-library";
import { requirePiece, type Slice } from "./slice";

/** Open a GeoTIFF on disk. */
export async function openLocalGeoTiff(path: string): Promise<GeoTIFF> {
  const { GeoTIFF: Library } = await geoTiffLibrary();
  const { file, size } = await openPlainFile(path);
  const source = new LocalFile(file, size);
  try {
    return await Library.fromSource(source as unknown as Parameters<typeof Library.fromSource>[0]);
  } catch (error) {
    await source.close();
    throw error;
  }
}

/** A file whose header may ask for more than there is: no memory is taken for that. */
class LocalFile {
  readonly fileSize: number;
  readonly #file: FileHandle;

  constructor(file: FileHandle, size: number) {
    this.#file = file;
    this.fileSize = size;
  }

  fetch(slices: readonly Slice[]): Promise<ArrayBuffer[]> {
    return Promise.all(slices.map((slice) => this.#slice(slice)));
  }

  close(): Promise<void> {
    return this.#file.close();
  }

  async #slice({ offset, length }: Slice): Promise<ArrayBuffer> {
    const there = Math.max(0, Math.min(length, this.fileSize - offset));
    requirePiece(there);
    const bytes = new Uint8Array(there);
    let read = 0;
    while (read < there) {
      const { bytesRead } = await this.#file.read(bytes, read, there - read, offset + read);
      if (bytesRead === 0) break;
      read += bytesRead;
    }
    return bytes.buffer.slice(0, read);
  }
}
