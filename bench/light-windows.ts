import { runBundled } from "./light/bundled";

// A year of a place's light against plain scans of it; see there.
await runBundled("./year-of-light.ts");
