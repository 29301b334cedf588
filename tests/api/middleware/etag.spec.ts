import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.6&longitude=-9.4&date=2027-03-20&horizon=flat";
const NOW_THERE = "/v1/sun?latitude=56.6&longitude=-9.4";

describe("ETag", () => {
  const app = testApp();
  const ask = (path: string, headers: Record<string, string> = {}, method = "GET") =>
    Promise.resolve(app.request(path, { method, headers }));

  it("is strong, and the same for the same bytes", async () => {
    const first = await ask(DAY);
    const again = await testApp().request(DAY);
    expect(first.headers.get("ETag")).toMatch(/^"[\w-]{22}"$/);
    expect(again.headers.get("ETag")).toBe(first.headers.get("ETag"));
    expect(await again.text()).toBe(await first.text());
    expect((await ask(DAY.replace("-20", "-21"))).headers.get("ETag")).not.toBe(first.headers.get("ETag"));
  });

  it("spares who has the answer its body, with the fields that a cache needs", async () => {
    const tag = (await ask(DAY)).headers.get("ETag") as string;
    for (const condition of [tag, `W/${tag}`, `"other", ${tag}`, "*"]) {
      const response = await ask(DAY, { "If-None-Match": condition });
      expect(response.status, condition).toBe(304);
      expect(await response.text()).toBe("");
      expect(response.headers.get("ETag")).toBe(tag);
      expect(response.headers.get("Cache-Control")).toBe("public, max-age=86400, immutable");
      expect(response.headers.get("Content-Type")).toBeNull();
    }
    for (const condition of ['"other"', tag.slice(1, -1), '""']) {
      expect((await ask(DAY, { "If-None-Match": condition })).status, condition).toBe(200);
    }
  });

  it("is not of what is true for a moment, nor of a POST, nor of a problem", async () => {
    expect((await ask(NOW_THERE)).headers.get("ETag")).toBeNull();
    expect((await ask("/v1/sun?latitude=91&longitude=0", { "If-None-Match": "*" })).status).toBe(400);
    const post = await app.request("/v1/exposures/solve", {
      method: "POST",
      headers: { "Content-Type": "application/json", "If-None-Match": "*" },
      body: JSON.stringify({ ev100: 12, aperture: 8, iso: 100 }),
    });
    expect(post.status).toBe(200);
    expect(post.headers.get("ETag")).toBeNull();
  });

  it("comes with HEAD as with GET", async () => {
    const [get, head] = [await ask(DAY), await ask(DAY, {}, "HEAD")];
    expect(await head.text()).toBe("");
    for (const name of ["ETag", "Cache-Control", "Content-Type"]) {
      expect(head.headers.get(name), name).toBe(get.headers.get(name));
    }
    expect(head.headers.get("Content-Length")).toBe(String((await get.arrayBuffer()).byteLength));
    const tag = get.headers.get("ETag") as string;
    expect((await ask(DAY, { "If-None-Match": tag }, "HEAD")).status).toBe(304);
  });
});
