import { json, text } from "../middleware/answer";
import type { Guarded } from "../middleware/pipeline";
import type { PolicySettings } from "../middleware/policy-settings";
import { ProblemError } from "../problems/problem";
import { openPath } from "./pages";

/** What operators and their machines ask: whether it lives, whether it is ready, and the counts. */
export function statePaths({ readiness, metrics }: PolicySettings): readonly Guarded<undefined>[] {
  return [
    openPath("/healthz", "no-store", () => json({ status: "ok" })),
    openPath("/readyz", "no-store", async () => {
      const state = readiness === undefined ? ({ status: "ready", checks: {} } as const) : await readiness();
      return { ...json(state), status: state.status === "unready" ? 503 : 200 };
    }),
    openPath("/metrics", "no-store", async () => {
      if (metrics === undefined) throw new ProblemError("not-found", { detail: "This service counts nothing." });
      const { body, type } = await metrics.text();
      return text(body, type);
    }),
  ];
}
