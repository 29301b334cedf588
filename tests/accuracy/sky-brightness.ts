import { frameSkyLuminance, skyField, skyPattern } from "@fieldstop/core/sky";
import { scatteredSky } from "../core/sky/twilight-scattering";
import { summarise } from "./errors";
import type { Measure } from "./measure";
import { sceneEv } from "./scene-ev";

const DEG = Math.PI / 180;

/**
 * Stops between the model's sky and one of scattered light, in five frames round the compass and overhead, the sun from
 * 5° to −6°.
 */
function againstScattering(): number[] {
  const scattered = scatteredSky();
  const errors: number[] = [];
  for (let sunAltitude = 5; sunAltitude >= -6; sunAltitude--) {
    const seen = scattered(sunAltitude);
    const theirs = skyField((east, north, up) => seen(Math.atan2(east, north) / DEG, Math.asin(up) / DEG));
    const pattern = skyPattern({ azimuthDeg: 0, altitudeDeg: sunAltitude });
    const ours = skyField((east, north, up) => Math.PI * pattern.along(east, north, up));
    for (const azimuthDeg of [0, 45, 90, 135, 180]) {
      const camera = { azimuthDeg };
      errors.push(
        Math.log2((frameSkyLuminance(ours, camera) as number) / (frameSkyLuminance(theirs, camera) as number)),
      );
    }
    errors.push(Math.log2(ours.toward(0, 89) / theirs.toward(0, 89)));
  }
  return errors;
}

/**
 * How far the sky's light on level ground strays from what the pattern is scaled to [%], for cloud, haze and heights of
 * the sun.
 */
function integrals(): number[] {
  const errors: number[] = [];
  const rings = 100;
  const steps = 144;
  for (const low of [0, 30, 60, 100]) {
    for (const turbidity of [1, 3.3, 8]) {
      for (const altitudeDeg of [90, 61.5, 34, 13, 3.4, 0.6, -0.5, -3.5, -9]) {
        const sky = { turbidity, cloudCover: { low, middle: 0, high: 0 } };
        const pattern = skyPattern({ azimuthDeg: 77, altitudeDeg }, sky);
        let sum = 0;
        for (let i = 0; i < rings; i++) {
          const altitude = Math.asin(Math.sqrt((i + 0.5) / rings)) / DEG;
          for (let j = 0; j < steps; j++) sum += pattern.toward(((j + 0.5) * 360) / steps, altitude);
        }
        errors.push(100 * ((sum * Math.PI) / (rings * steps) - 1));
      }
    }
  }
  return errors;
}

export const skyBrightnessMeasures: readonly Measure[] = [
  {
    id: "scene-ev",
    subject: "light of a scene: sun, cloud, shade, sunset, moonlight",
    against: "exposure guides ANSI PH2.7-1973 and -1986",
    unit: "stops",
    measure: () => summarise(sceneEv().map(({ errorStops }) => errorStops)),
  },
  {
    id: "twilight-sky",
    subject: "clear sky in frames round the compass and overhead, sun 5° to -6°",
    against: "scattering in a spherical atmosphere",
    unit: "stops",
    measure: () => summarise(againstScattering()),
  },
  {
    id: "sky-integral",
    subject: "the sky's luminance summed over level ground",
    against: "the illuminance it is scaled to",
    unit: "%",
    measure: () => summarise(integrals()),
  },
];
