import { LANDING_EXAMPLES } from "@fieldstop/api/pages/landing-examples";
import { PROBLEM_TYPES } from "@fieldstop/api/problems/catalogue";
import { describe, expect, it } from "vitest";
import { get, post, testApp } from "./harness";

const app = testApp();
const landing = await (await get(app, "/")).text();

describe("the landing page", () => {
  it("says what the service is for and takes style and script from the service alone", async () => {
    expect(landing).toContain("The ridge, not the almanac");
    const addresses = [...landing.matchAll(/(?:src|srcset|href)="([^"]+)"/g)].map((found) => found[1] as string);
    expect(addresses.length).toBeGreaterThan(6);
    for (const address of addresses) {
      expect(address).toMatch(/^\/(?!\/)/);
      const response = await get(app, address.replaceAll("&amp;", "&"));
      expect(response.status, address).toBe(200);
    }
  });

  it.each(LANDING_EXAMPLES)("$id can be run", async ({ path, body }) => {
    const response = await (body === undefined ? get(app, path) : post(app, path, body));
    expect(response.status, await response.text()).toBe(200);
    expect(landing).toContain(`data-path="${path.replaceAll("&", "&amp;")}"`);
  });

  it("never repeats the name by which it was called", async () => {
    const response = await app.request("http://elsewhere.example/", { headers: { Host: "elsewhere.example" } });
    expect(await response.text()).not.toContain("elsewhere");
  });
});

describe("a problem's page", () => {
  it.each(Object.keys(PROBLEM_TYPES))("stands at /problems/%s", async (key) => {
    const response = await get(app, `/problems/${key}`);
    expect(response.status).toBe(200);
    const page = await response.text();
    expect(page).toContain(PROBLEM_TYPES[key as keyof typeof PROBLEM_TYPES].title);
  });
});
