import { beforeAll, describe, expect, it } from "vitest";
import { get, problem, type TestApp, testApp } from "../harness";

const strand = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, date: "2027-03-20" };
let app: TestApp;
beforeAll(() => {
  app = testApp();
});

const asked = (path: string, accept: string, method = "GET") => {
  const query = new URLSearchParams(Object.entries(strand).map(([key, value]) => [key, String(value)]));
  return Promise.resolve(app.request(`${path}?${query}`, { method, headers: { Accept: accept } }));
};

describe("Accept", () => {
  it.each([
    ["/v1/forecast", "application/json", "application/json"],
    ["/v1/forecast", "*/*", "application/json"],
    ["/v1/forecast", "image/svg+xml", "image/svg+xml"],
    ["/v1/forecast", "text/calendar", "text/calendar; charset=utf-8"],
    ["/v1/forecast", "text/markdown", "text/markdown; charset=utf-8"],
    ["/v1/forecast", "text/plain", "text/plain; charset=utf-8"],
    ["/v1/forecast", "text/plain;q=0.5, text/markdown;q=0.9", "text/markdown; charset=utf-8"],
    ["/v1/forecast", "text/plain, application/json;q=0.9", "text/plain; charset=utf-8"],
    ["/v1/forecast", "text/*", "text/calendar; charset=utf-8"],
    ["/v1/forecast", "text/*;q=0.4, text/plain", "text/plain; charset=utf-8"],
    ["/v1/forecast", "image/*, application/json;q=0.1", "image/svg+xml"],
    ["/v1/forecast", "application/json;q=0, */*", "image/svg+xml"],
    // what a browser sends, which has no better wish than our own choice
    ["/v1/forecast", "text/html,application/xhtml+xml,application/xml;q=0.9,*/*;q=0.8", "application/json"],
    ["/v1/light-windows", "text/calendar", "text/calendar; charset=utf-8"],
    ["/v1/light-windows", "image/svg+xml, application/json;q=0.9", "image/svg+xml"],
    ["/v1/light-windows", "*/*", "application/json"],
    ["/v1/forecast.txt", "*/*", "text/plain; charset=utf-8"],
    ["/v1/forecast.svg", "image/*", "image/svg+xml"],
  ])("of %s with %s gives %s", async (path, accept, type) => {
    const response = await asked(path, accept);
    expect(response.status, await response.clone().text()).toBe(200);
    expect(response.headers.get("Content-Type")).toBe(type);
  });

  it("decides between forms that caches must tell apart", async () => {
    for (const path of ["/v1/forecast", "/v1/light-windows"]) {
      expect((await asked(path, "*/*")).headers.get("Vary")).toMatch(/Accept(,|$)/);
    }
    expect((await asked("/v1/forecast.md", "*/*")).headers.get("Vary") ?? "").not.toMatch(/Accept(,|$)/);
  });

  it("gives each form its own tag, and the same to those who ask again", async () => {
    const forms = ["application/json", "image/svg+xml", "text/calendar", "text/markdown", "text/plain"];
    const tags = await Promise.all(
      forms.map(async (form) => (await asked("/v1/forecast", form)).headers.get("ETag") as string),
    );
    expect(new Set(tags).size).toBe(forms.length);
    expect((await asked("/v1/forecast", "text/plain")).headers.get("ETag")).toBe(tags[4]);
  });

  it.each([
    ["/v1/forecast", "text/html", ["application/json", "image/svg+xml", "text/calendar", "text/markdown"]],
    ["/v1/light-windows", "text/markdown", ["application/json", "image/svg+xml", "text/calendar"]],
    ["/v1/forecast.ics", "application/json", ["text/calendar"]],
    ["/v1/forecast.txt", "text/markdown", ["text/plain"]],
    ["/v1/forecast", "application/json;q=0", ["application/json"]],
  ])("of %s with %s alone is refused, and told what there is", async (path, accept, forms) => {
    const { detail } = await problem(asked(path, accept), 406);
    for (const form of forms) expect(detail).toContain(form);
  });

  it("does not turn a body's answer into a form that it has none of", async () => {
    const response = await app.request("/v1/light-windows", {
      method: "POST",
      headers: { Accept: "image/svg+xml", "Content-Type": "application/json" },
      body: JSON.stringify({ place: { latitude: 56.6, longitude: -9.4 } }),
    });
    await problem(response, 406);
    const lines = await app.request("/v1/forecasts", {
      method: "POST",
      headers: { Accept: "application/json", "Content-Type": "application/json" },
      body: JSON.stringify({ places: [{ place: { latitude: 56.6, longitude: -9.4 } }] }),
    });
    expect((await problem(lines, 406)).detail).toContain("application/x-ndjson");
  });
});

describe("suffixes", () => {
  it("take what the plain path takes, and refuse what it refuses", async () => {
    for (const path of ["/v1/forecast.svg", "/v1/forecast.ics", "/v1/forecast.md", "/v1/forecast.txt"]) {
      await problem(get(app, path, { ...strand, latitude: 91 }), 400);
      await problem(get(app, path, { ...strand, colour: "red" }), 400);
    }
    await problem(get(app, "/v1/forecast.pdf", strand), 404);
    await problem(get(app, "/v1/forecast.md", { ...strand, days: 3 }), 400);
    await problem(get(app, "/v1/forecast", { ...strand, width: 400 }), 400);
  });
});
