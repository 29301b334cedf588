import { PROBLEM_TYPES } from "@fieldstop/api/problems/catalogue";
import { contractText } from "@fieldstop/api/server/contract-text";
import { describe, expect, it } from "vitest";
import { answer, get, problem, testApp } from "./harness";

const app = testApp();

describe("paths and methods", () => {
  it("answers 404 as a problem", async () => {
    expect(await problem(get(app, "/v1/moonbeams"), 404)).toMatchObject({
      type: "/problems/not-found",
      instance: "/v1/moonbeams",
    });
  });

  it.each([
    ["POST", "/v1/sun", 405],
    ["DELETE", "/v1/outings/plan", 405],
    ["POST", "/v1/recipes", 404],
  ])("tells %s %s by %i first, whatever body came with it", async (method, path, status) => {
    const response = await app.request(path, { method, headers: { "Content-Type": "text/plain" }, body: "…" });
    await problem(response, status);
  });

  it("answers 405 with the methods that are taken", async () => {
    const response = await app.request("/v1/sun?latitude=1&longitude=1", { method: "DELETE" });
    expect(response.headers.get("Allow")).toBe("GET, HEAD");
    await problem(response, 405);
  });

  it("refuses a body in a content coding, which nothing here takes off", async () => {
    const headers = { "Content-Type": "application/json", "Content-Encoding": "gzip" };
    const body = JSON.stringify({ ev100: 12, aperture: 8, iso: 100 });
    const response = await app.request("/v1/exposures/solve", { method: "POST", headers, body });
    expect(response.headers.get("Accept-Encoding")).toBe("identity");
    await problem(response, 415);
  });

  it("takes JSON in UTF-8 alone, however its charset is written", async () => {
    const ask = (type: string) => {
      const body = JSON.stringify({ ev100: 12, aperture: 8, iso: 100 });
      return app.request("/v1/exposures/solve", { method: "POST", headers: { "Content-Type": type }, body });
    };
    for (const charset of ["utf-8", "UTF-8", '"utf-8"', "utf8", "utf-8; profile=x"]) {
      expect((await ask(`application/json; charset=${charset}`)).status, charset).toBe(200);
    }
    for (const charset of ["utf-16", '"utf-16le"', "iso-8859-1", "utf-80", ""]) {
      const refused = await ask(`application/json;charset=${charset}`);
      expect(refused.headers.get("Accept-Post")).toBe("application/json");
      expect((await problem(refused, 415)).detail, charset).toContain("UTF-8");
    }
  });

  it.each([
    ["?=north&latitude=56.6&longitude=-9.4", "north"],
    ["?latitude=56.6&longitude=-9.4&=", ""],
    ["?latitude=56.6&=1&longitude=-9.4", "1"],
  ])("refuses a parameter without a name: %s", async (query, received) => {
    const { detail, errors } = await problem(app.request(`/v1/sun${query}`), 400);
    expect(detail).toBe("query: a parameter without a name");
    expect(errors).toEqual([
      {
        pointer: "query:",
        detail: "a parameter without a name",
        received,
        allowed: "only the documented parameters, as name=value",
      },
    ]);
  });

  it("reads over empty pairs, which are no parameters", async () => {
    expect((await app.request("/v1/sun?&latitude=56.6&&longitude=-9.4&")).status).toBe(200);
  });

  it("says of a parameter that is absent or repeated just that", async () => {
    const { errors } = (await problem(app.request("/v1/sun?latitude=1&latitude=2"), 400)) as { errors: unknown };
    expect(errors).toEqual([
      { pointer: "query:latitude", detail: "given more than once", received: "1", allowed: "one value" },
      { pointer: "query:longitude", detail: "this field is required", allowed: "one value" },
    ]);
  });

  it("answers HEAD without a body", async () => {
    const response = await app.request("/v1/sun?latitude=1&longitude=1", { method: "HEAD" });
    expect(response.status).toBe(200);
    expect(await response.text()).toBe("");
  });

  it("answers 406 to a caller who takes no JSON", async () => {
    const ask = (accept: string) => app.request("/v1/sun?latitude=1&longitude=1", { headers: { Accept: accept } });
    await problem(ask("image/png"), 406);
    expect((await ask("text/html, */*;q=0.1")).status).toBe(200);
    expect((await ask("application/json; charset=utf-8")).status).toBe(200);
  });
});

describe("faults of the service", () => {
  it("say nothing of the inside, carry the request id, and are reported", async () => {
    const faults: string[] = [];
    const broken = testApp({
      timeZoneAt: () => {
        throw new Error("secret table missing");
      },
      reportFault: (error, requestId) => faults.push(`${requestId} ${(error as Error).message}`),
    });
    const response = await get(broken, "/v1/sun", { latitude: 1, longitude: 1 });
    const body = await problem(response, 500);
    expect(JSON.stringify(body)).not.toContain("secret");
    expect(body.requestId).toBe(response.headers.get("X-Request-Id"));
    expect(faults).toEqual([`${body.requestId} secret table missing`]);
  });
});

describe("bodies", () => {
  const solve = (headers: Record<string, string>, init: RequestInit = {}) =>
    app.request("/v1/exposures/solve", {
      method: "POST",
      headers,
      body: '{"ev100":12,"aperture":8,"iso":100}',
      ...init,
    });

  it("are refused where their Content-Type cannot be read, tabs and all", async () => {
    await problem(solve({ "Content-Type": "application/json\t;\tq" }), 415);
    await problem(solve({ "Content-Type": "application/json,text/plain" }), 415);
  });

  it("are refused where their bytes are not UTF-8, whether or not their length was announced", async () => {
    const type = { "Content-Type": "application/json" };
    const bytes = Buffer.concat([
      Buffer.from('{"ev100":12,"aperture":8,"iso":100,"x'),
      Buffer.from([0xff, 0xfe, 0x22]),
    ]);
    for (const headers of [type, { ...type, "Content-Length": String(bytes.length) }]) {
      expect((await problem(solve(headers, { body: bytes }), 400)).detail).toBe("The body is not encoded as UTF-8.");
    }
    const marked = '{"ev100":12,"aperture":8,"iso":100,"\ufffd":1}';
    expect((await problem(solve(type, { body: marked }), 400)).detail).toContain("/\ufffd");
    expect((await solve(type, { body: '\ufeff{"ev100":12,"aperture":8,"iso":100}' })).status).toBe(200);
  });

  it("that a caller cuts short by hanging up are no fault of the service", async () => {
    const caller = new AbortController();
    const body = new ReadableStream({
      pull(stream) {
        caller.abort();
        stream.error(new Error("aborted"));
      },
    });
    const init = { body, signal: caller.signal, duplex: "half" } as RequestInit;
    await problem(solve({ "Content-Type": "application/json" }, init), 400);
  });
});

describe("the documents", () => {
  it("serves its own OpenAPI 3.1", async () => {
    expect(await answer(get(app, "/openapi.json"))).toMatchObject({ openapi: "3.1.0" });
  });

  it("serves the committed one, which says the same as the code", async () => {
    const shipped = testApp({}, { contract: contractText });
    const text = await (await get(shipped, "/openapi.json")).text();
    expect(text).toBe(await contractText());
    expect(text).toBe(await (await get(app, "/openapi.json")).text());
  });

  it.each(Object.keys(PROBLEM_TYPES))("explains the problem %s on a page", async (key) => {
    const response = await get(app, `/problems/${key}`);
    expect(response.status).toBe(200);
    expect(await response.text()).toContain(PROBLEM_TYPES[key as keyof typeof PROBLEM_TYPES].title);
  });

  it("has no page for a problem that does not exist", async () => {
    await problem(get(app, "/problems/constructor"), 404);
  });
});
