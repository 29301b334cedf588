export interface Check {
  /** `degraded` answers still, with less: without a shared store, or without some ground. */
  readonly state: "ok" | "degraded" | "down";
  readonly detail?: string;
}

/** Whether to send requests here, and why not. */
export interface Readiness {
  readonly status: "ready" | "degraded" | "unready";
  readonly checks: Readonly<Record<string, Check>>;
}

/** Ready with all that is needed, degraded with less than all that is wanted, unready where anything needed is down. */
export function readinessOf(checks: Readonly<Record<string, Check>>): Readiness {
  const states = Object.values(checks).map(({ state }) => state);
  if (states.includes("down")) return { status: "unready", checks };
  return { status: states.includes("degraded") ? "degraded" : "ready", checks };
}
