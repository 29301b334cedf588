import { fileURLToPath } from "node:url";
import { type Contract, operationsOf } from "@fieldstop/api/pages/contract";
import { LANDING_EXAMPLES } from "@fieldstop/api/pages/landing-examples";
import { examplesOf } from "@fieldstop/api/pages/operation-page";
import { PROBLEM_TYPES } from "@fieldstop/api/problems/catalogue";
import { createTerrain } from "@fieldstop/terrain";
import { describe, expect, it } from "vitest";
import { get, post, problem, testApp } from "./harness";

const terrain = await createTerrain({ sources: [fileURLToPath(new URL("../../demo/elevation", import.meta.url))] });
const app = testApp({ terrain });
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

describe("the reference", async () => {
  const contract = JSON.parse(await (await get(app, "/openapi.json")).text()) as Contract;
  const operations = operationsOf(contract);
  const list = await (await get(app, "/docs")).text();

  it("lists every operation and every problem, and leads nowhere else", async () => {
    expect(list).not.toMatch(/https?:/);
    const links = [...list.matchAll(/(?:src|href)="([^"#]+)"/g)].map(([, link]) => link as string);
    expect(links).toEqual(expect.arrayContaining(operations.map(({ operationId }) => `/docs/${operationId}`)));
    expect(links).toEqual(expect.arrayContaining(Object.keys(PROBLEM_TYPES).map((key) => `/problems/${key}`)));
    for (const link of links) expect((await get(app, link)).status, link).toBe(200);
  });

  it("describes every field of every schema that an operation takes or gives", async () => {
    const pages = await Promise.all(
      operations.map(async ({ operationId }) => (await get(app, `/docs/${operationId}`)).text()),
    );
    for (const [name, { properties = {} }] of Object.entries(contract.components.schemas)) {
      const heading = `<h3 id="${name}">`;
      const section = pages
        .find((text) => text.includes(heading))
        ?.split(heading)[1]
        ?.split("</section>")[0];
      expect(section, name).toBeDefined();
      for (const field of Object.keys(properties)) expect(section).toContain(`<dt><code>${field}</code></dt>`);
    }
  });

  it.each(operations)("tells of $operationId what it takes, each place in the page once", async (operation) => {
    const text = await (await get(app, `/docs/${operation.operationId}`)).text();
    for (const { name } of operation.parameters ?? []) expect(text).toContain(`<dt><code>${name}</code></dt>`);
    const ids = [...text.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id as string);
    expect(new Set(ids).size).toBe(ids.length);
    for (const [, target] of text.matchAll(/href="#([^"]+)"/g)) expect(ids).toContain(target);
  });

  it("gives type, unit and range of a field, and whether it must be there", async () => {
    const text = await (await get(app, "/docs/getSunPosition")).text();
    const latitude = text.slice(text.indexOf("<dt><code>latitude</code></dt>")).split("</div>")[0];
    expect(latitude).toContain("<strong>required</strong>; number, −90 to 90; for example <code>56.601</code>");
    expect(latitude).toContain("Latitude, WGS 84 [deg], north positive");
    expect(text).toMatch(/<code>eyeHeightM<\/code><\/dt><dd>\s*<p class="faint">optional; number, 0.5 to 1000/);
  });

  it("tells of a list what each of its members is", async () => {
    const text = await (await get(app, "/docs/reviewBracketPhotos")).text();
    const photos = text.slice(text.indexOf("<dt><code>photos</code></dt>")).split("</div>")[0];
    expect(photos).toContain("list of 1 to 15 of: string (binary)");
    expect(photos).toContain("One part for each photograph");
    expect(photos).toContain("JPEG, PNG or TIFF");
  });

  // tides and photographs want what only the whole service has
  const examples = operations.filter(({ tags }) => !tags.includes("water")).flatMap(examplesOf);
  it.each(examples)("$path can be run ($id)", async ({ path, body }) => {
    const response = await (body === undefined ? get(app, path) : post(app, path, body));
    expect(response.status, await response.text()).toBe(200);
  });

  it.each(["constructor", "package.json", "getsunposition"])("has no page %s", async (name) => {
    await problem(get(app, `/docs/${name}`), 404);
  });
});
