import { createFieldstop } from "@fieldstop/sdk";
import { afterAll, beforeAll, describe, expect, it } from "vitest";
import { testApp } from "../api/harness";
import { type RunningServer, startServer } from "./server";

let server: RunningServer;
beforeAll(async () => {
  server = await startServer(testApp());
});
afterAll(() => server.close());

const strand = { latitude: 56.6, longitude: -9.4 };

describe("pictures through the SDK", () => {
  it("come as blobs that say what they are", async () => {
    const { horizon, framing, light } = createFieldstop({ baseUrl: server.baseUrl });
    const pictures = [
      await horizon.drawHorizon({ ...strand, width: 400 }),
      await framing.drawSkyline({ place: strand, camera: { azimuthDeg: 270 } }),
      await light.drawLightLevels({ place: strand, date: "2027-03-20", stepMinutes: 10, width: 400 }),
    ];
    for (const picture of pictures) {
      expect(picture.type).toBe("image/svg+xml");
      expect(await picture.text()).toMatch(/^<\?xml [^>]+>\n<svg /);
    }
  });

  it("stand beside the data that they show, which keeps its type", async () => {
    const { framing } = createFieldstop({ baseUrl: server.baseUrl });
    const frame = await framing.projectSkyline({ place: strand, camera: { azimuthDeg: 270 } });
    expect(frame.skyPercent).toBeCloseTo(50, 0);
    const heights = await framing.solveCameraHeight({
      place: strand,
      camera: { azimuthDeg: 270 },
      things: [{ name: "boulder", distanceM: 5, topM: 1.5 }],
    });
    const clears = heights.things[0]?.clears;
    // a sea horizon a hair below the level: a hair above the boulder's top
    expect(clears?.kind === "between" && clears.fromM).toBeCloseTo(1.5, 2);
  });
});
