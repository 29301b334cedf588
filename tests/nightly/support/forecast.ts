import type { Forecast } from "@fieldstop/sdk";
import { post, testApp } from "../../api/harness";

let made: Promise<Forecast> | undefined;

/** A forecast as the service makes it, of the strand on an evening in spring; made once for all tests. */
export function forecastOfTheStrand(): Promise<Forecast> {
  made ??= make();
  return made;
}

async function make(): Promise<Forecast> {
  const place = { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, elevationM: 2, timeZone: "Europe/London" };
  const wanted = { id: "strand", place, date: "2027-03-20", camera: { azimuthDeg: 290, focalLengthMm: 24 } };
  const response = await post(testApp(), "/v1/forecasts", { places: [wanted] });
  const line = JSON.parse((await response.text()).split("\n")[0] as string) as { forecast?: Forecast };
  if (line.forecast === undefined) throw new Error(`the service made no forecast: ${JSON.stringify(line)}`);
  return line.forecast;
}
