import { mkdirSync, writeFileSync } from "node:fs";
import { createApp } from "./app";
import { openApiDocument } from "./openapi-document";

const target = new URL("../../../openapi/openapi.json", import.meta.url);
const app = createApp({ timeZoneAt: () => "Etc/UTC", nowMs: () => 0, reportFault: () => undefined });
mkdirSync(new URL(".", target), { recursive: true });
writeFileSync(target, `${JSON.stringify(openApiDocument(app), null, 2)}\n`);
console.log(`wrote openapi/openapi.json`);
