import fc from "fast-check";
import { describe, expect, it } from "vitest";
import { post, testApp } from "../api/harness";
import { valuesOf, withoutRules } from "../load/arbitraries";
import { differs, operations, type Schema } from "../load/contract";

// The rules between fields: the contract says those that the service holds, and no others.

const app = testApp({ reportFault: () => undefined });
// the places of a stream are judged one by one, and refused in their own lines
const bodies = operations
  .filter(({ id, body }) => body?.type === "application/json" && id !== "streamForecasts")
  .map(({ id, path, body }) => ({ id, path, schema: body?.schema ?? {} }));

/** Refusals for which fields are there, whatever they hold. */
const OF_PRESENCE =
  /: missing|not both|only (together )?with|exactly (one|two)|one of them|or neither|date, or from and to|sun, or place|together with|this or /;

async function refusalOf(path: string, body: unknown): Promise<string | undefined> {
  const response = await post(app, path, body);
  const text = await response.text();
  if (response.status === 200) return undefined;
  const { detail, errors } = JSON.parse(text) as { detail: string; errors?: { detail: string }[] };
  return [detail, ...(errors ?? []).map((one) => one.detail)].join(" ");
}

describe("rules between the fields of a body", () => {
  it.each(bodies)("$id: what the contract allows is not refused for the fields that are there", async (operation) => {
    await fc.assert(
      fc.asyncProperty(valuesOf(operation.schema), async (body) => {
        expect((await refusalOf(operation.path, body)) ?? "").not.toMatch(OF_PRESENCE);
      }),
      { numRuns: 40 },
    );
  });

  it.each(bodies)("$id: what the contract forbids is refused", async ({ path, schema }) => {
    const loose = valuesOf(withoutRules(schema) as Schema);
    const broken = fc.sample(loose, { numRuns: 200 }).filter((body) => differs(schema, JSON.stringify(body)));
    for (const body of broken.slice(0, 40)) {
      expect(await refusalOf(path, body), `${differs(schema, JSON.stringify(body))}`).toBeDefined();
    }
  });

  it("are broken by many that are drawn without them", () => {
    const { schema = {} } = operations.find(({ id }) => id === "selectFilters")?.body ?? {};
    const drawn = fc.sample(valuesOf(withoutRules(schema) as Schema), { numRuns: 50 });
    expect(drawn.filter((body) => differs(schema, JSON.stringify(body))).length).toBeGreaterThan(20);
  });
});
