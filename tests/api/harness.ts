import { type AppOptions, createApp } from "@fieldstop/api/app";
import type { Services } from "@fieldstop/api/services";
import tzLookup from "@photostructure/tz-lookup";
import { expect } from "vitest";

/** The present of every API test: an evening in spring. */
export const NOW = "2027-03-20T17:00:00Z";

export interface ProblemBody {
  readonly type: string;
  readonly title: string;
  readonly status: number;
  readonly detail: string;
  readonly instance: string;
  readonly errors?: readonly { pointer: string; detail: string; received?: unknown; allowed?: string }[];
  readonly requestId?: string;
}

export type TestApp = ReturnType<typeof createApp>;

/** The app with a fixed clock; a fault of the service fails the test that met it, unless the test takes faults itself. */
export function testApp(services: Partial<Services> = {}, options: AppOptions = {}): TestApp {
  return createApp(
    {
      timeZoneAt: (latitude, longitude) => tzLookup(latitude, longitude),
      nowMs: () => Date.parse(NOW),
      reportFault: (error) => {
        throw error;
      },
      ...services,
    },
    options,
  );
}

export function get(app: TestApp, path: string, query: Record<string, string | number> = {}): Promise<Response> {
  const search = new URLSearchParams(Object.entries(query).map(([key, value]) => [key, String(value)]));
  return Promise.resolve(app.request(search.size === 0 ? path : `${path}?${search}`));
}

export function post(app: TestApp, path: string, body: unknown): Promise<Response> {
  return Promise.resolve(
    app.request(path, {
      method: "POST",
      headers: { "Content-Type": "application/json" },
      body: typeof body === "string" ? body : JSON.stringify(body),
    }),
  );
}

/** The JSON of a good answer. */
export async function answer<T = Record<string, unknown>>(response: Response | Promise<Response>): Promise<T> {
  const settled = await response;
  const text = await settled.text();
  expect(settled.status, text).toBe(200);
  expect(settled.headers.get("Content-Type")).toContain("application/json");
  return JSON.parse(text) as T;
}

/** The problem of a refused request, its form held to RFC 9457. */
export async function problem(response: Response | Promise<Response>, status: number): Promise<ProblemBody> {
  const settled = await response;
  const text = await settled.text();
  expect(settled.status, text).toBe(status);
  expect(settled.headers.get("Content-Type")).toBe("application/problem+json");
  const body = JSON.parse(text) as ProblemBody;
  expect(body.status).toBe(status);
  expect(body.type).toMatch(/^\/problems\/[a-z-]+$/);
  return body;
}

/** The fields that a problem names. */
export async function refusedFields(response: Response | Promise<Response>, status = 400): Promise<string[]> {
  return ((await problem(response, status)).errors ?? []).map(({ pointer }) => pointer);
}
