import { mkdir, stat } from "node:fs/promises";
import { dirname } from "node:path";

/**
 * Makes a folder and those above it that are not there, one by one: by itself `mkdir` tries for ever where a folder is there and yet says of one in it that
 * the way does not exist, as `/proc` does.
 */
export async function makeFolder(folder: string): Promise<void> {
  if ((await stat(folder).catch(() => null)) !== null) return;
  if (dirname(folder) !== folder) await makeFolder(dirname(folder));
  await mkdir(folder).catch((error: NodeJS.ErrnoException) => {
    // another process was quicker
    if (error.code !== "EEXIST") throw error;
  });
}
