/**
 * The calendar that the calculations count days by: the browser's own, and where it has none a stand-in that comes only then, since it would be a fifth
 * of the page.
 */
const own = (globalThis as { Temporal?: typeof import("temporal-polyfill/implementation").Temporal }).Temporal;

export const Temporal = own ?? (await import("temporal-polyfill/implementation")).Temporal;
