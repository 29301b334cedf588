import { type Client, createClient } from "./generated/client/index.js";
import { toProblem } from "./problem.js";
import { type RetryOptions, retryingFetch } from "./retry.js";

export interface FieldstopOptions {
  /** Where the service is, such as `http://127.0.0.1:8787`. */
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

/** A client for the single functions: pass it as `client`. Failed requests throw a `FieldstopProblem`. */
export function createFieldstopClient(options: FieldstopOptions): Client {
  const { baseUrl, apiKey, retry, timeoutMs = 10_000 } = options;
  // looked up at each call, and never called as a method, which browsers refuse
  const inner: typeof fetch = options.fetch ?? ((input, init) => globalThis.fetch(input, init));
  const client = createClient({
    baseUrl: baseUrl.replace(/\/+$/, ""),
    fetch: retryingFetch(inner, retry === false ? { attempts: 1 } : (retry ?? {}), timeoutMs),
    throwOnError: true,
    responseStyle: "data",
    ...(apiKey === undefined ? {} : { headers: { Authorization: `Bearer ${apiKey}` } }),
  });
  client.interceptors.error.use((error, response) => toProblem(error, response));
  return client;
}
