import type { TideSource } from "@fieldstop/operations";
import type { WorkerPool } from "../workers/worker-pool";

/**
 * The tide stations in a thread of their own: reading them takes half a second and 100 MB, a prediction 25 ms.
 * @param pool of one thread, since each would hold all stations
 */
export const tidesInThread = (pool: WorkerPool): TideSource => ({
  stationById: (id, from) => pool.run("tideStationById", { id, from }),
  stationsNear: (place, radiusKm, most) => pool.run("tideStationsNear", { place, radiusKm, most }),
  nearestStation: ({ latitude, longitude }) => pool.run("nearestTideStation", { latitude, longitude }),
  // of a request whose station was found: taken
  predict: ({ id }, datum, startMs, endMs) =>
    pool.run("predictTide", { id, datum, startMs, endMs }, { continues: true }),
});
