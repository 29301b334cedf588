import { readFileSync } from "node:fs";
import type { Page } from "playwright-core";

const axe = readFileSync(new URL("../../node_modules/axe-core/axe.min.js", import.meta.url), "utf8");

/** What axe finds wrong, each rule with where. */
export async function violations(page: Page): Promise<string[]> {
  // as an expression of the debugger, since a policy for content bars injected scripts
  await page.evaluate(axe);
  return page.evaluate(async () => {
    const { axe } = globalThis as unknown as {
      axe: { run(): Promise<{ violations: { id: string; nodes: { target: unknown; failureSummary: string }[] }[] }> };
    };
    const found = await axe.run();
    return found.violations.flatMap(({ id, nodes }) =>
      nodes.map(({ target, failureSummary }) => `${id}: ${JSON.stringify(target)} ${failureSummary}`),
    );
  });
}
