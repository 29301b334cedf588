import { execFileSync } from "node:child_process";
import { mkdtempSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";

/** A disk of 1 MiB, mounted for a test. */
export interface SmallDisk {
  readonly folder: string;
  /** Leave so many bytes free. */
  fill(freeBytes: number): void;
  empty(): void;
  unmount(): void;
}

const SIZE = 1_048_576;

/** Mount a small disk; undefined where the machine does not allow it. */
export function smallDisk(): SmallDisk | undefined {
  const folder = mkdtempSync(join(tmpdir(), "nightly-disk-"));
  try {
    execFileSync("mount", ["-t", "tmpfs", "-o", `size=${SIZE}`, "tmpfs", folder], { stdio: "ignore" });
  } catch {
    rmSync(folder, { recursive: true });
    return undefined;
  }
  const filling = join(folder, "filling");
  const empty = (): void => rmSync(filling, { force: true });
  return {
    folder,
    fill(freeBytes) {
      writeFileSync(filling, Buffer.alloc(SIZE - freeBytes));
    },
    empty,
    unmount() {
      execFileSync("umount", [folder]);
      rmSync(folder, { recursive: true });
    },
  };
}
