import { constants } from "node:fs";
import { type FileHandle, open } from "node:fs/promises";

/** Why a file is not read, under `code`, as the system's own reasons are. */
const refused = (code: string) => Object.assign(new Error(code), { code });

/**
 * Open a file to read it, and nothing but a file: what is named like a tile may be a pipe, which would be waited for without end.
 * @throws Error with a code
 */
export async function openPlainFile(path: string): Promise<{ readonly file: FileHandle; readonly size: number }> {
  // a pipe is opened at once by this, whether anyone writes to it or not
  const file = await open(path, constants.O_RDONLY | (constants.O_NONBLOCK ?? 0));
  try {
    const found = await file.stat();
    if (!found.isFile()) throw refused("not a plain file");
    return { file, size: found.size };
  } catch (error) {
    await file.close();
    throw error;
  }
}

/**
 * Read a whole file, as {@link openPlainFile} opens it.
 * @throws Error with a code where it has more bytes than it can have
 */
export async function readPlainFile(path: string, mostBytes: number): Promise<Uint8Array> {
  const { file, size } = await openPlainFile(path);
  try {
    if (size > mostBytes) throw refused(`${size} bytes, which is too large`);
    return await file.readFile();
  } finally {
    await file.close();
  }
}
