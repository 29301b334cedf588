/** Keeps the page's own files. Answers of the service are kept by the page itself, with their age. */

/** As much of a service worker's scope as is used here: the compiler's own description of it does not go with a page's. */
interface WorkerScope {
  readonly clients: { claim(): Promise<void> };
  readonly registration: { readonly scope: string };
  skipWaiting(): Promise<void>;
  addEventListener(name: "install" | "activate", listener: (event: Lasting) => void): void;
  addEventListener(name: "fetch", listener: (event: Fetching) => void): void;
}
interface Lasting {
  waitUntil(work: Promise<void>): void;
}
interface Fetching {
  readonly request: Request;
  respondWith(response: Promise<Response>): void;
}

const worker = globalThis as unknown as WorkerScope;

// both are written in by the build
const FILES = "__SHELL_FILES__" as unknown as readonly string[];
const SHELL = "fieldstop-shell-__SHELL_VERSION__";

worker.addEventListener("install", (event) => {
  event.waitUntil(
    (async () => {
      const cache = await caches.open(SHELL);
      await cache.addAll(FILES.map((file) => new Request(file, { cache: "reload" })));
      await worker.skipWaiting();
    })(),
  );
});

worker.addEventListener("activate", (event) => {
  event.waitUntil(
    (async () => {
      const names = await caches.keys();
      const old = names.filter((name) => name.startsWith("fieldstop-shell-") && name !== SHELL);
      await Promise.all(old.map((name) => caches.delete(name)));
      await worker.clients.claim();
    })(),
  );
});

worker.addEventListener("fetch", (event) => {
  const { request } = event;
  const url = new URL(request.url);
  const scope = new URL(worker.registration.scope);
  if (request.method !== "GET" || url.origin !== scope.origin || !url.pathname.startsWith(scope.pathname)) return;
  const file = url.pathname.slice(scope.pathname.length);
  const name = file === "" ? "index.html" : file;
  if (!FILES.includes(name)) return;
  event.respondWith(fromShell(name, request));
});

/** Files of one version belong together: the shell answers whole, and a new version comes with its own worker. */
async function fromShell(name: string, request: Request): Promise<Response> {
  const cache = await caches.open(SHELL);
  return (await cache.match(name)) ?? fetch(request);
}
