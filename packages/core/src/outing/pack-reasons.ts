import type { DewPoint } from "../sky/dew-point";
import type { OutingMoment } from "./plan-moment";

const WORTH_IT = ["worth-it", "worth-it-with-care"];
// Common practice: water that is wanted smooth is near enough to spray
const SMOOTH_WATER_SECONDS = 0.1;

/** What a polarizer in the bag is good for here; undefined where it does little. */
export function polarizerUse(moments: readonly OutingMoment[]): string | undefined {
  const sky = moments.find(({ polarizer }) => polarizer !== undefined && WORTH_IT.includes(polarizer.verdict.code));
  if (sky?.polarizer !== undefined) return `it darkens the sky by ${sky.polarizer.meanStops.toFixed(1)} stops`;
  // Common practice: wet leaves, rock and water shine whatever the sky does, and with no sky to go uneven nothing speaks against it
  if (moments.every(({ polarizer }) => polarizer === undefined)) {
    return "no sky is in the frame: it takes the shine off wet leaves, rock and water";
  }
  return undefined;
}

/** Why water may settle on the lens; undefined where nothing says so. */
export function wetLens(
  { targetShutterSeconds }: { readonly targetShutterSeconds?: number | undefined },
  dew: DewPoint | undefined,
): string | undefined {
  if (targetShutterSeconds !== undefined && targetShutterSeconds >= SMOOTH_WATER_SECONDS) {
    return "spray from the water that is to be smooth";
  }
  return dew !== undefined && dew.fogRisk !== "low" ? "dew may settle on the lens" : undefined;
}
