import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";
const post = (body: unknown, headers: Record<string, string> = {}) => ({
  method: "POST",
  headers: { "Content-Type": "application/json", ...headers },
  body: JSON.stringify(body),
});

describe("CORS", () => {
  const origin = "https://club.example";
  const allowedFor = async (corsOrigins: "off" | "*" | string[], init: RequestInit, path = DAY) => {
    const response = await testApp({}, { policies: { corsOrigins } }).request(path, init);
    return response.headers.get("Access-Control-Allow-Origin");
  };

  it("lets every page read what a GET answers, and asks no origin for it", async () => {
    expect(await allowedFor([], {})).toBe("*");
    expect(await allowedFor([], { headers: { Origin: origin } })).toBe("*");
    expect(await allowedFor("off", { headers: { Origin: origin } })).toBeNull();
  });

  it("lets listed pages send bodies", async () => {
    const init = post({ ev100: 12, aperture: 8, iso: 100 }, { Origin: origin });
    const solve = (origins: "off" | "*" | string[]) => allowedFor(origins, init, "/v1/exposures/solve");
    expect(await solve([origin])).toBe(origin);
    expect(await solve(["https://other.example"])).toBeNull();
    expect(await solve("*")).toBe("*");
    expect(await solve("off")).toBeNull();
  });

  it("answers the question beforehand", async () => {
    const headers = { Origin: origin, "Access-Control-Request-Method": "POST" };
    const ask = (corsOrigins: string[]) =>
      testApp({}, { policies: { corsOrigins } }).request(DAY, { method: "OPTIONS", headers });
    const [listed, unlisted] = [await ask([origin]), await ask([])];
    expect(listed.status).toBe(204);
    expect(listed.headers.get("Access-Control-Allow-Methods")).toBe("GET, HEAD, POST");
    expect(listed.headers.get("Access-Control-Allow-Headers")).toContain("Authorization");
    expect(listed.headers.get("Vary")).toContain("Origin");
    expect(unlisted.headers.get("Access-Control-Allow-Methods")).toBe("GET, HEAD");
  });
});
