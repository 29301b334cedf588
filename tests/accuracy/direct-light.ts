import { directLight } from "@fieldstop/core/light";
import { foundEdges, hardDays, limbScan, scanEdges } from "../core/light/limb-scan";
import { seeded, summarise } from "./errors";
import type { Measure, Measurement } from "./measure";

const STEP_MS = 1000;

/** Errors [s] of all edges of some days; an edge that is missing or too many fails the measurement. */
function edges(): Measurement {
  return summarise(
    hardDays(seeded(41), 30).flatMap(({ label, request }) => {
      const found = foundEdges(directLight(request), request, STEP_MS);
      const scanned = scanEdges(limbScan(request, STEP_MS));
      if (found.length !== scanned.length) {
        throw new Error(`${label}: ${found.length} edges where the scan has ${scanned.length}`);
      }
      return found.map(({ ms, direction }, i) => {
        const edge = scanned[i];
        return edge?.direction === direction ? (ms - edge.zeroMs) / 1000 : Number.NaN;
      });
    }),
  );
}

export const directLightMeasures: readonly Measure[] = [
  {
    id: "direct-light-edges",
    subject: "edges of direct light, skylines made up to be hard, up to 80°, 1901 to 2100",
    against: "a scan in 1 s steps over the same skyline",
    unit: "s",
    measure: edges,
  },
];
