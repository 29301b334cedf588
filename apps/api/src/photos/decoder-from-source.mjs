// The decoder's process, run from the source.
import { register } from "tsx/esm/api";

register();
await import("./decoder.ts");
