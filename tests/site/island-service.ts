import { fileURLToPath } from "node:url";
import { createTerrain } from "@fieldstop/terrain";
import { type TestApp, testApp } from "../api/harness";

const elevation = fileURLToPath(new URL("../../demo/elevation", import.meta.url));

/** The service with the demo island, on the clock of this machine, as a reader's browser is. */
export async function islandService(): Promise<TestApp> {
  return testApp({ terrain: await createTerrain({ sources: [elevation] }), nowMs: () => Date.now() });
}
