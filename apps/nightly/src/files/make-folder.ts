import { existsSync, mkdirSync, statSync } from "node:fs";
import { dirname } from "node:path";

/**
 * Makes a folder, and those above it that are not there. By itself `mkdir` tries for ever where a folder is there and yet says of one in it that the way
 * does not exist, as `/proc` does.
 * @throws where it cannot be made
 */
export function makeFolder(folder: string): void {
  if (statSync(folder, { throwIfNoEntry: false })?.isDirectory()) return;
  try {
    mkdirSync(folder);
  } catch (error) {
    const { code } = error as NodeJS.ErrnoException;
    const above = dirname(folder);
    if (code === "ENOENT" && !existsSync(above)) {
      makeFolder(above);
      makeFolder(folder);
      return;
    }
    // another process was quicker
    if (code !== "EEXIST" || !statSync(folder).isDirectory()) throw error;
  }
}
