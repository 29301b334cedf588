// A club's own server, on Hono: its pages ask here, and only this server knows Fieldstop and its API key.
// FIELDSTOP_URL is the service, FIELDSTOP_API_KEY the key where it asks for one, PORT where to listen (3000).

import { createFieldstop, isProblem } from "@fieldstop/sdk";
import { serve } from "@hono/node-server";
import { Hono } from "hono";

const spots: Readonly<Record<string, { name: string; latitude: number; longitude: number; timeZone: string }>> = {
  strand: { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, timeZone: "Europe/London" },
  ward: { name: "The Ward", latitude: 56.61, longitude: -9.34583, timeZone: "Europe/London" },
};

const {
  FIELDSTOP_URL: baseUrl = "http://127.0.0.1:8787",
  FIELDSTOP_API_KEY: apiKey,
  PORT: port = "3000",
} = process.env;
const fieldstop = createFieldstop({ baseUrl, ...(apiKey && { apiKey }) });

const app = new Hono();

app.get("/light/:spot", async (context) => {
  const spot = spots[context.req.param("spot")];
  if (spot === undefined) return context.json({ error: "no such spot" }, 404);
  const { name, ...place } = spot;
  const date = context.req.query("date");
  const { directLight } = await fieldstop.light.findLightWindows({ ...place, ...(date && { date }) });
  const last = directLight.intervals.at(-1);
  return context.json({
    spot: name,
    directLightUntil: directLight.lastInstant,
    behindTerrain: last?.endCause === "terrain",
  });
});

// what the service refuses is the caller's to mend; anything else is ours
app.onError((error, context) => {
  if (isProblem(error) && error.status === 400) return context.json({ error: error.detail }, 400);
  return context.json({ error: "the light is not known at the moment" }, 502);
});

serve({ fetch: app.fetch, port: Number(port), hostname: "127.0.0.1" }, ({ port: taken }) => {
  console.log(`http://127.0.0.1:${taken}/light/strand`);
});
