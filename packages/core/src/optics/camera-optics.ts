import { requireInRange } from "../domain-error";
import { type ApertureSetting, readAperture } from "../exposure/settings";
import type { Assumption } from "../notes";
import { circleOfConfusionMm, type SharpnessWanted } from "./circle-of-confusion";
import { airyDiameterUm, apertureOfAiryDiameter } from "./diffraction";
import { readSensor, type Sensor, type SensorReading } from "./sensor";
import type { ThinLens } from "./thin-lens";

/** Sensor, lens and aperture, and what still counts as sharp. */
export interface CameraOptics extends SharpnessWanted {
  readonly sensor: Sensor;
  /** [mm], 1 to 10,000 */
  readonly focalLengthMm: number;
  /** f-number as typed; a mark is read as what it stands for, 11 as 11.31. */
  readonly aperture: number;
}

/** What diffraction does at an aperture. */
export interface Diffraction {
  /** Diameter of the Airy disc in green light [µm]. */
  readonly airyDiameterUm: number;
  /** The aperture past which the disc is larger than the circle of confusion [1]. */
  readonly apertureAtCircleOfConfusion: number;
  /** The aperture past which the disc is wider than two pixels [1]; present where the pixels are known. */
  readonly apertureAtTwoPixels?: number;
}

export interface CameraOpticsReading {
  readonly sensor: SensorReading;
  readonly aperture: ApertureSetting;
  readonly lens: ThinLens;
  readonly diffraction: Diffraction;
}

/** Reads sensor, lens, aperture and circle of confusion; what was taken by default is added to `assumptions`. */
export function readCameraOptics(request: CameraOptics, assumptions: Assumption[]): CameraOpticsReading {
  const sensor = readSensor(request.sensor);
  const focalLengthMm = requireInRange("focalLengthMm", request.focalLengthMm, 1, 1e4, "mm");
  const aperture = readAperture(requireInRange("aperture", request.aperture, 0.5, 256));
  if (aperture.origin === "mark" && aperture.exact !== request.aperture) {
    const why = `read as the mark ${aperture.nominal}`;
    assumptions.push({ field: "aperture", value: aperture.exact, why });
  }
  const circle = circleOfConfusionMm(sensor, request, assumptions);
  return {
    sensor,
    aperture,
    lens: { focalLengthMm, aperture: aperture.exact, circleOfConfusionMm: circle },
    diffraction: {
      airyDiameterUm: airyDiameterUm(aperture.exact),
      apertureAtCircleOfConfusion: apertureOfAiryDiameter(circle * 1000),
      ...(sensor.pixelPitchUm === undefined
        ? {}
        : { apertureAtTwoPixels: apertureOfAiryDiameter(2 * sensor.pixelPitchUm) }),
    },
  };
}
