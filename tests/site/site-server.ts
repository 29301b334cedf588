import { mkdtempSync, readFileSync, rmSync } from "node:fs";
import type { AddressInfo } from "node:net";
import { tmpdir } from "node:os";
import { extname, join, normalize } from "node:path";
import { fileURLToPath } from "node:url";
import { type ServerType, serve } from "@hono/node-server";
import { build } from "vite";
import type { TestApp } from "../api/harness";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript",
  ".css": "text/css",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

/** The page as it is built for a static host, in a folder of its own; with the service elsewhere where its address is given. */
export async function buildSite(serviceUrl = ""): Promise<{ readonly folder: string; remove(): void }> {
  const folder = mkdtempSync(join(tmpdir(), "fieldstop-site-"));
  process.env["FIELDSTOP_SERVICE_URL"] = serviceUrl;
  const remove = (): void => rmSync(folder, { recursive: true, force: true });
  for (const config of ["vite.config.ts", "vite.element.config.ts"]) {
    const configFile = fileURLToPath(new URL(`../../apps/site/${config}`, import.meta.url));
    await build({
      configFile,
      logLevel: "error",
      mode: "production",
      build: { outDir: folder, emptyOutDir: config === "vite.config.ts" },
    }).catch((error) => {
      remove();
      throw error;
    });
  }
  return { folder, remove };
}

/** How the service behind the page does at the moment. */
export type ServiceState = "well" | "down";

export interface SiteServer {
  readonly baseUrl: string;
  /** Requests that the service has had. */
  readonly asked: string[];
  service: ServiceState;
  close(): Promise<void>;
}

/** A static host with the service behind the same address, as `npm run site` has it. */
export async function startSite(folder: string, app: TestApp): Promise<SiteServer> {
  const asked: string[] = [];
  const site = { service: "well" as ServiceState };
  const answer = async (request: Request): Promise<Response> => {
    const { pathname, search } = new URL(request.url);
    if (!pathname.startsWith("/v1/")) return file(folder, pathname);
    asked.push(pathname + search);
    if (site.service === "down") return new Response("gone", { status: 503 });
    return app.fetch(request);
  };
  const server = await listen(answer);
  return Object.assign(site, {
    asked,
    baseUrl: `http://127.0.0.1:${(server.address() as AddressInfo).port}`,
    close: () => end(server),
  });
}

/** A host that serves one page, with a policy for content that lets in no more than it names. */
export async function startForeignHost(
  html: string,
  policy: string,
): Promise<{ baseUrl: string; close(): Promise<void> }> {
  const headers = { "Content-Type": "text/html; charset=utf-8", "Content-Security-Policy": policy };
  const server = await listen(async ({ url }) =>
    new URL(url).pathname === "/" ? new Response(html, { headers }) : new Response(null, { status: 204 }),
  );
  return { baseUrl: `http://127.0.0.1:${(server.address() as AddressInfo).port}`, close: () => end(server) };
}

function file(folder: string, pathname: string): Response {
  const name = normalize(pathname === "/" ? "/index.html" : pathname);
  try {
    const body = readFileSync(join(folder, name));
    return new Response(body, { headers: { "Content-Type": TYPES[extname(name)] ?? "application/octet-stream" } });
  } catch {
    return new Response("nothing here", { status: 404 });
  }
}

function listen(answer: (request: Request) => Promise<Response>): Promise<ServerType> {
  return new Promise((resolve) => {
    const server: ServerType = serve({ fetch: answer, port: 0, hostname: "127.0.0.1" }, () => resolve(server));
  });
}

function end(server: ServerType): Promise<void> {
  if ("closeAllConnections" in server) server.closeAllConnections();
  return new Promise((resolve) => server.close(() => resolve()));
}
