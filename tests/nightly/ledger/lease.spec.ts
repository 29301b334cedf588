import { spawn } from "node:child_process";
import { once } from "node:events";
import { mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { LedgerInUse } from "@fieldstop/nightly/ledger/lease";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ready } from "../support/ready";

let folder: string;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-lease-"));
});
afterEach(() => rm(folder, { recursive: true }));

const source = fileURLToPath(new URL("../../../apps/nightly/src/ledger/lmdb-ledger.ts", import.meta.url));

/** Another process that holds the lease until it is killed. */
async function holder() {
  const script = `import { LmdbLedger } from ${JSON.stringify(source)};
    await new LmdbLedger(${JSON.stringify(folder)}).lease(() => {});
    console.log("held"); setInterval(() => {}, 1000);`;
  const args = ["--import", "tsx", "--conditions=fieldstop-source", "--input-type=module", "-e", script];
  const child = spawn(process.execPath, args, { stdio: ["ignore", "pipe", "inherit"] });
  await once(child.stdout, "data");
  return child;
}

describe("the right to post from a ledger", () => {
  it("is one process's, until it is killed", async () => {
    const other = await holder();
    const ledger = new LmdbLedger(folder);
    try {
      await expect(ledger.lease(() => {})).rejects.toThrow(LedgerInUse);
      await expect(ledger.lease(() => {})).rejects.toThrow(`process ${other.pid} `);
      // reading and replaying go on beside it
      expect(await ledger.list("dead")).toEqual([]);
      const ended = once(other, "exit");
      other.kill("SIGKILL");
      await ended;
      await ledger.lease(() => {});
      await ledger.open([await ready()]);
    } finally {
      other.kill("SIGKILL");
      await ledger.close();
    }
  });

  it("is given back at the end", async () => {
    const first = new LmdbLedger(folder);
    await first.lease(() => {});
    await first.close();
    const second = new LmdbLedger(folder);
    await second.lease(() => {});
    await second.close();
  });
});
