import { createFieldstop, isProblem } from "@fieldstop/sdk";
import { describe, expect, it } from "vitest";

const place = { latitude: 1, longitude: 2 };
const ok = () => Response.json({ azimuthDeg: 1 });
const away = (headers: Record<string, string> = {}) =>
  new Response(
    JSON.stringify({ type: "/problems/unavailable", title: "t", status: 503, detail: "away", instance: "/v1/sun" }),
    {
      status: 503,
      headers: { "Content-Type": "application/problem+json", ...headers },
    },
  );

/** A service that gives its answers one after the other, the last one for ever. */
function scripted(...answers: readonly (() => Response | Promise<Response>)[]) {
  let calls = 0;
  const fetch: typeof globalThis.fetch = async () => {
    const answer = answers[Math.min(calls, answers.length - 1)] as () => Response | Promise<Response>;
    calls++;
    return answer();
  };
  return { fetch, calls: () => calls };
}

const refuse = (): never => {
  throw new TypeError("fetch failed");
};

function face(fetch: typeof globalThis.fetch, more: object = {}) {
  return createFieldstop({ baseUrl: "http://ardvane.invalid", fetch, retry: { baseDelayMs: 1 }, ...more });
}

describe("tries again", () => {
  it("after network errors and passing states", async () => {
    const service = scripted(refuse, away, ok);
    expect(await face(service.fetch).sky.getSunPosition(place)).toEqual({ azimuthDeg: 1 });
    expect(service.calls()).toBe(3);
  });

  it("no sooner than Retry-After says", async () => {
    const service = scripted(() => away({ "Retry-After": "1" }), ok);
    const before = Date.now();
    await face(service.fetch).sky.getSunPosition(place);
    expect(Date.now() - before).toBeGreaterThanOrEqual(990);
  });

  it("not at all where Retry-After asks for longer than the caller would wait", async () => {
    const service = scripted(() => away({ "Retry-After": "60" }), ok);
    const error: unknown = await face(service.fetch)
      .sky.getSunPosition(place)
      .catch((caught: unknown) => caught);
    expect(error).toMatchObject({ status: 503, retryAfterSeconds: 60 });
    expect(service.calls()).toBe(1);
  });

  it("only so often, and then throws the last problem", async () => {
    const service = scripted(away);
    const error: unknown = await face(service.fetch)
      .sky.getSunPosition(place)
      .catch((caught: unknown) => caught);
    expect(isProblem(error)).toBe(true);
    expect(service.calls()).toBe(3);
  });

  it("never where retry is off, nor after a refusal", async () => {
    const off = scripted(away);
    await expect(face(off.fetch, { retry: false }).sky.getSunPosition(place)).rejects.toThrow("away");
    expect(off.calls()).toBe(1);
    const refused = scripted(
      () => new Response("{}", { status: 400, headers: { "Content-Type": "application/json" } }),
    );
    await expect(face(refused.fetch).sky.getSunPosition(place)).rejects.toMatchObject({
      status: 400,
      type: "about:blank",
    });
    expect(refused.calls()).toBe(1);
  });

  it("sends the body whole each time", async () => {
    const bodies: string[] = [];
    let calls = 0;
    const fetch: typeof globalThis.fetch = async (input) => {
      bodies.push(await (input as Request).text());
      return calls++ === 0 ? away() : ok();
    };
    await face(fetch).light.findLightWindowsFromBody({ place });
    expect(bodies).toEqual([JSON.stringify({ place }), JSON.stringify({ place })]);
  });
});

/** A service that never answers, but ends when it is told to. */
const silent: typeof globalThis.fetch = (input) =>
  new Promise((_, reject) => {
    const { signal } = input as Request;
    signal.addEventListener("abort", () => reject(signal.reason));
  });

describe("gives up", () => {
  it("a try that takes too long", async () => {
    const service = face(silent, { timeoutMs: 20, retry: { attempts: 2, baseDelayMs: 1 } });
    await expect(service.sky.getSunPosition(place)).rejects.toMatchObject({ name: "TimeoutError" });
  });

  it("at once when the caller aborts, also while waiting to try again", async () => {
    const abort = new AbortController();
    const call = face(scripted(away).fetch, { retry: { baseDelayMs: 60_000, maxDelayMs: 60_000 } }).sky.getSunPosition(
      place,
      {
        signal: abort.signal,
      },
    );
    setTimeout(() => abort.abort(new Error("left the page")), 20);
    await expect(call).rejects.toThrow("left the page");
  });
});

it("sends the key where one is given, and only then", async () => {
  const seen: (string | null)[] = [];
  const fetch: typeof globalThis.fetch = async (input) => {
    seen.push((input as Request).headers.get("Authorization"));
    return ok();
  };
  await face(fetch, { apiKey: "k-1" }).sky.getSunPosition(place);
  await face(fetch).sky.getSunPosition(place);
  expect(seen).toEqual(["Bearer k-1", null]);
});
