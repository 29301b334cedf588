import { UnreadablePhoto } from "@fieldstop/api/photos/unreadable-photo";
import { rateLimiter } from "@fieldstop/api/server/rate-limiter";
import { describe, expect, it, vi } from "vitest";
import { problem, testApp } from "../harness";

const SUN = "/v1/sun?latitude=56.6&longitude=-9.4&instant=2027-03-20T18:00:00Z";

describe("rate limits", () => {
  it("tell what is left, and refuse what is beyond with the time to come back", async () => {
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(3) } });
    for (const left of [2, 1, 0]) {
      const { headers, status } = await app.request(SUN);
      expect(status).toBe(200);
      expect(headers.get("RateLimit-Policy")).toBe('"client";q=3;w=60');
      expect(headers.get("RateLimit")).toMatch(new RegExp(`^"client";r=${left};t=(60|59)$`));
    }
    const refused = await app.request(SUN);
    expect(Number(refused.headers.get("Retry-After"))).toBeGreaterThan(0);
    expect(refused.headers.get("RateLimit")).toMatch(/^"client";r=0;t=\d+$/);
    expect(refused.headers.get("Cache-Control")).toBe("no-store");
    await problem(refused, 429);
    // neither pages nor probes count
    for (const path of ["/docs", "/healthz", "/openapi.json"]) expect((await app.request(path)).status).toBe(200);
  });

  it("are each client's own", async () => {
    const clientOf = ({ headers }: Request) => headers.get("x-test-client") ?? "";
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(1), clientOf } });
    const statusFor = async (client: string) =>
      (await app.request(SUN, { headers: { "X-Test-Client": client } })).status;
    expect(await statusFor("a")).toBe(200);
    expect(await statusFor("b")).toBe(200);
    expect(await statusFor("a")).toBe(429);
  });

  it("say when to come back by a clock that only goes forward", async () => {
    vi.useFakeTimers({ toFake: ["Date"] });
    try {
      const limiter = rateLimiter(2);
      await limiter.take("club", 2);
      vi.setSystemTime(Date.now() - 3_600_000);
      const { allowed, resetSeconds } = await limiter.take("club", 1);
      expect(allowed).toBe(false);
      expect(resetSeconds).toBeLessThanOrEqual(60);
      vi.setSystemTime(Date.now() + 7_200_000);
      expect((await limiter.take("club", 1)).allowed).toBe(false);
    } finally {
      vi.useRealTimers();
    }
  });

  it("count what takes longer for more, by what is asked", async () => {
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(100) } });
    const place = { latitude: 56.6, longitude: -9.4 };
    const compare = (dates: string[]) =>
      app.request("/v1/outings/compare", {
        method: "POST",
        headers: { "Content-Type": "application/json" },
        body: JSON.stringify({ places: [{ place }, { place }], dates, session: "evening", camera: {} }),
      });
    const response = await compare(["2027-03-20", "2027-03-21", "2027-03-22"]);
    expect(response.status, await response.clone().text()).toBe(200);
    expect(response.headers.get("RateLimit")).toMatch(/;r=90;/);
    // what is refused for its form costs a point
    expect((await compare([])).headers.get("RateLimit")).toMatch(/;r=89;/);
  });

  it("count an answer that is cached for one", async () => {
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(100) } });
    const left = async () =>
      (await app.request("/v1/horizon.svg?latitude=56.6&longitude=-9.4&horizon=flat&date=2027-03-20")).headers.get(
        "RateLimit",
      );
    expect(await left()).toMatch(/;r=96;/);
    expect(await left()).toMatch(/;r=95;/);
  });

  it("refuse before the work what would cost more than is left, and take what is known only after it", async () => {
    const app = testApp({}, { policies: { rateLimiter: rateLimiter(3) } });
    const dear = await app.request("/v1/horizon.svg?latitude=56.6&longitude=-9.4&horizon=flat&date=2027-03-20");
    expect(dear.headers.get("Retry-After")).not.toBeNull();
    await problem(dear, 429);
    const reader = {
      read: async (_: Blob, __?: AbortSignal, spent?: (ms: number) => void) => {
        spent?.(500);
        throw new UnreadablePhoto("this photograph is damaged or cut short", "damage", "a photograph");
      },
    };
    const photos = testApp({ photos: reader }, { policies: { rateLimiter: rateLimiter(100) } });
    const form = new FormData();
    form.append("photos", new File([new Uint8Array(9)], "a.jpg"));
    form.append("photos", new File([new Uint8Array(9)], "b.jpg"));
    const response = await photos.request("/v1/brackets/review-photos", { method: "POST", body: form });
    expect(response.status).toBe(400);
    // two for the form, fifty for each photograph
    expect(response.headers.get("RateLimit")).toMatch(/;r=0;/);
  });
});
