import type { OpenAPIHono } from "@hono/zod-openapi";
import type { AppEnv } from "./env";
import { withPolicyContract } from "./middleware/policy-contract";

/** The version of the contract. Before 1.0 it only grows within a minor version. */
export const API_VERSION = "0.2.0";

/** The OpenAPI 3.1 document of the app's own routes. */
export function openApiDocument(app: OpenAPIHono<AppEnv>) {
  const document = app.getOpenAPI31Document({
    openapi: "3.1.0",
    info: {
      title: "Fieldstop",
      version: API_VERSION,
      description:
        "When and where the light will be, and how to expose for it: sun and moon behind a real ridge, exposure, filters, brackets, optics, and a plan for one evening. Azimuth is degrees clockwise from true north; instants are RFC 3339; units stand in the names.",
      license: { name: "MIT", url: "https://opensource.org/license/mit" },
    },
    servers: [{ url: "/", description: "This service" }],
    tags: [
      { name: "sky", description: "Sun and moon" },
      { name: "light", description: "When direct light comes and goes" },
      { name: "horizon", description: "The skyline as terrain makes it" },
      { name: "framing", description: "What the frame holds, and from what height" },
      { name: "water", description: "The tide" },
      { name: "exposure", description: "Exposure from light, and the reverse" },
      { name: "filters", description: "Neutral density filters, alone and stacked" },
      { name: "brackets", description: "Exposure brackets, before and after" },
      { name: "optics", description: "Depth of field, angle of view, panoramas" },
      { name: "outings", description: "One evening or morning, planned" },
      { name: "forecast", description: "The evening's or the morning's light in a few sentences" },
      { name: "reference", description: "Tables of the trade" },
    ],
  });
  return withPolicyContract(document);
}
