import { type Client, createFieldstopClient } from "@fieldstop/sdk";
import { keepingFetch } from "./keep";

/** The service that the page was built for; its own host where none was named. */
export function serviceBaseUrl(): string {
  const named = document.querySelector<HTMLMetaElement>('meta[name="fieldstop-service"]')?.content ?? "";
  return new URL(named === "" ? "/" : named, document.baseURI).href.replace(/(?<!\/)\/+$/, "");
}

/** A client that answers from the device where the service cannot be reached, and then tells since when it kept the answer. */
export function keepingClient(onKept: (since: Date) => void = () => undefined): Client {
  return createFieldstopClient({
    baseUrl: serviceBaseUrl(),
    fetch: keepingFetch(onKept),
    retry: { attempts: 2 },
    timeoutMs: 10_000,
  });
}
