/** How long counts what came from a remote, whose files may change behind the same address without a sign [ms]. */
export const REMOTE_AGE_MS = 30 * 24 * 3_600_000;
