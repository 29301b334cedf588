import { writeFile } from "node:fs/promises";

/** Spots along the shore of Ardvane, all posted to one webhook, as a file. */
export async function writePlaces(file: string, count: number, url: string, rest: object = {}): Promise<string> {
  const places = Array.from({ length: count }, (_, index) => ({
    id: `spot-${String(index).padStart(4, "0")}`,
    latitude: Number((56.55 + (index % 40) * 0.002).toFixed(4)),
    longitude: Number((-9.45 + Math.floor(index / 40) * 0.004).toFixed(4)),
  }));
  const written = {
    channels: { hook: { kind: "webhook", url, secretEnv: "ARDVANE_SECRET", timeoutSeconds: 1 } },
    defaults: { timeZone: zoneWhereItIsNoon(), postAt: "00:00", channels: ["hook"] },
    retry: { attempts: 30, firstSeconds: 0.3, longestSeconds: 2 },
    places,
    ...rest,
  };
  await writeFile(file, JSON.stringify(written, null, 2));
  return file;
}

/** Where the day is far from its ends, so that no test runs over midnight. */
function zoneWhereItIsNoon(): string {
  const east = 12 - new Date().getUTCHours();
  // the signs of these zones are the other way round
  return east === 0 ? "Etc/GMT" : `Etc/GMT${east > 0 ? "-" : "+"}${Math.abs(east)}`;
}
