import { type Client, createClient } from "./generated/client/index.js";
import { toProblem } from "./problem.js";
import { type RetryOptions, retryingFetch } from "./retry.js";

export interface FieldstopOptions {
  /** Where the service is, such as `http://127.0.0.1:8787`; in a page also a path of its own host, or "". */
  readonly baseUrl: string;
  /** Sent as `Authorization: Bearer`, where the service asks for keys. */
  readonly apiKey?: string;
  /** The fetch to use; default: the runtime's own. */
  readonly fetch?: typeof fetch;
  /** How to try again; `false` never does. */
  readonly retry?: RetryOptions | false;
  /** Longest time for one try [ms], default 10 000. */
  readonly timeoutMs?: number;
}

const BASE_URL = /^(https?:\/\/|\/|$)/i;

/**
 * A client for the single functions: pass it as `client`. Failed requests throw a `FieldstopProblem`.
 *
 * @throws TypeError where `baseUrl` is no address
 */
export function createFieldstopClient(options: FieldstopOptions): Client {
  const { baseUrl, apiKey, retry, timeoutMs = 10_000 } = options;
  if (typeof baseUrl !== "string" || !BASE_URL.test(baseUrl)) {
    const given = JSON.stringify(baseUrl);
    throw new TypeError(
      `baseUrl is ${given}; it must begin with http:// or https://, or be a path of the page's own host.`,
    );
  }
  // looked up at each call, and never called as a method, which browsers refuse
  const inner: typeof fetch = options.fetch ?? ((input, init) => globalThis.fetch(input, init));
  const client = createClient({
    baseUrl: baseUrl.replace(/(?<!\/)\/+$/, ""),
    fetch: retryingFetch(inner, retry === false ? { attempts: 1 } : (retry ?? {}), timeoutMs),
    throwOnError: true,
    responseStyle: "data",
    ...(apiKey === undefined ? {} : { headers: { Authorization: `Bearer ${apiKey}` } }),
  });
  client.interceptors.error.use((error, response) => toProblem(error, response));
  return client;
}
