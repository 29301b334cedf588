import { open, rename, rm } from "node:fs/promises";
import { dirname } from "node:path";
import { makeFolder } from "./make-folder";

/** Replaces a file in one step: whoever reads it sees the old text or the new one, also after a crash. */
export async function writeFileAtomically(file: string, text: string): Promise<void> {
  makeFolder(dirname(file));
  const beside = `${file}.${process.pid}.tmp`;
  try {
    const handle = await open(beside, "w");
    try {
      await handle.writeFile(text);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await rename(beside, file);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}
