import { brotliDecompressSync, gunzipSync } from "node:zlib";
import { compress } from "@fieldstop/api/server/compress";
import { describe, expect, it } from "vitest";
import { testApp } from "../harness";

const DAY = "/v1/light-windows?latitude=56.61234&longitude=-9.43456&date=2027-03-20&horizon=flat";
const LEVELS = {
  place: { latitude: 56.6, longitude: -9.4 },
  from: "2027-03-20T17:00:00Z",
  to: "2027-03-20T19:00:00Z",
  stepMinutes: 5,
};
const post = (body: unknown, headers: Record<string, string> = {}) => ({
  method: "POST",
  headers: { "Content-Type": "application/json", ...headers },
  body: JSON.stringify(body),
});

describe("compression", () => {
  let made = 0;
  const app = testApp(
    {},
    {
      policies: {
        compress: (bytes, encoding) => {
          made++;
          return compress(bytes, encoding);
        },
      },
    },
  );
  const ask = (encoding?: string) =>
    app.request(DAY, { headers: encoding === undefined ? {} : { "Accept-Encoding": encoding } });

  it("gives each caller the smallest form that they take, made once", async () => {
    const plain = await (await ask()).text();
    const gzipped = await ask("gzip");
    const brotli = await ask("gzip, deflate, br");
    expect(gzipped.headers.get("Content-Encoding")).toBe("gzip");
    expect(brotli.headers.get("Content-Encoding")).toBe("br");
    expect(gunzipSync(await gzipped.arrayBuffer()).toString()).toBe(plain);
    expect(brotliDecompressSync(await brotli.arrayBuffer()).toString()).toBe(plain);
    for (const encoding of ["gzip", "br", "br;q=0.5, gzip", "*"]) await ask(encoding);
    expect(made).toBe(2);
    for (const encoding of ["identity", "gzip;q=0", "zstd"]) {
      expect((await ask(encoding)).headers.get("Content-Encoding"), encoding).toBeNull();
    }
  });

  it("has a tag for each form, and knows them all", async () => {
    const tags = await Promise.all([undefined, "gzip", "br"].map(async (e) => (await ask(e)).headers.get("ETag")));
    expect(new Set(tags).size).toBe(3);
    for (const tag of tags) {
      const response = await app.request(DAY, { headers: { "If-None-Match": tag as string, "Accept-Encoding": "br" } });
      expect(response.status).toBe(304);
    }
    expect((await ask()).headers.get("Vary")).toBe("Accept, Accept-Encoding");
  });

  it("is for large answers alone, of bodies too", async () => {
    const small = await app.request("/v1/dew-point?temperatureC=8&relativeHumidity=90", {
      headers: { "Accept-Encoding": "br" },
    });
    expect(small.headers.get("Content-Encoding")).toBeNull();
    const large = await app.request("/v1/light-levels", post(LEVELS, { "Accept-Encoding": "gzip" }));
    expect(large.headers.get("Content-Encoding")).toBe("gzip");
    expect(JSON.parse(gunzipSync(await large.arrayBuffer()).toString())).toHaveProperty("timeZone");
  });

  it("that fails leaves the answer plain", async () => {
    const failing = testApp({}, { policies: { compress: () => Promise.reject(new Error("no memory")) } });
    for (const init of [{}, post(LEVELS)]) {
      const headers = { ...(init as { headers?: Record<string, string> }).headers, "Accept-Encoding": "br" };
      const path = "method" in init ? "/v1/light-levels" : DAY;
      const response = await failing.request(path, { ...init, headers });
      const text = await response.text();
      expect(response.status, text).toBe(200);
      expect(response.headers.get("Content-Encoding")).toBeNull();
      expect(text.length).toBeGreaterThan(2048);
      expect(JSON.parse(text)).toBeTypeOf("object");
    }
  });
});
