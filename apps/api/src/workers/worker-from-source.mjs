// The worker, run from the source: threads do not take over the loader that their parent runs under.
import { register } from "tsx/esm/api";

register();
export const { runTask } = await import("./worker.ts");
