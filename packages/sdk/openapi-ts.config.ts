import { defineConfig } from "@hey-api/openapi-ts";

export default defineConfig({
  input: "../../openapi/openapi.json",
  output: { path: "src/generated", module: { extension: ".js" } },
  plugins: [
    { name: "@hey-api/client-fetch", throwOnError: true },
    { name: "@hey-api/typescript" },
    { name: "@hey-api/sdk", responseStyle: "data" },
  ],
});
