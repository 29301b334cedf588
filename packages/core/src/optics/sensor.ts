import { DomainError, requireInRange } from "../domain-error";
import { type FormatSize, SENSOR_FORMAT_NAMES, SENSOR_FORMATS, type SensorFormatName } from "./sensor-formats";

/** A sensor by its own measures. */
export interface SensorSize extends FormatSize {
  /** Pixels across the width; without it nothing that depends on pixels is answered. */
  readonly widthPx?: number;
}

/** A sensor or film: the name of a format, or its own measures. */
export type Sensor = SensorFormatName | SensorSize;

/** How the camera is held: as the sensor is described, or turned by a quarter. */
export type FrameOrientation = "landscape" | "portrait";

/** A sensor's measures, and what follows from them. */
export interface SensorReading extends FormatSize {
  /** The format that was named; absent for own measures. */
  readonly name?: SensorFormatName;
  readonly diagonalMm: number;
  /** Diagonal of full frame over this one [1]. */
  readonly cropFactor: number;
  /** Present where the pixels across are known, as are the next two. */
  readonly widthPx?: number;
  readonly heightPx?: number;
  /** Distance between the centres of neighbouring pixels [µm]. */
  readonly pixelPitchUm?: number;
}

const FULL_FRAME_DIAGONAL_MM = Math.hypot(SENSOR_FORMATS["full-frame"].widthMm, SENSOR_FORMATS["full-frame"].heightMm);

/**
 * Read the measures of a sensor: sides, diagonal, crop factor, and pixel pitch where the pixels are known.
 * @param sensor name of a format, or `widthMm` and `heightMm` [mm] 1 to 1000 with `widthPx` [px] 16 to 200,000
 * @param param name to report errors under
 * @returns [mm], [1], [px] and [µm]
 * @throws DomainError for an unknown name, with the names that are known, or measures out of range
 * Source: Pythagoras; the ratio of diagonals. Accuracy: exact for own measures; named formats vary by 1 % from camera to camera.
 * Held by the golden rows `format`.
 * @example readSensor("four-thirds").cropFactor // 1.999
 */
export function readSensor(sensor: Sensor, param = "sensor"): SensorReading {
  if (typeof sensor === "string") {
    if (!Object.hasOwn(SENSOR_FORMATS, sensor)) {
      const allowed = `${SENSOR_FORMAT_NAMES.join(", ")}, or widthMm and heightMm`;
      throw new DomainError({ param, given: sensor, allowed });
    }
    return { name: sensor, ...measures(SENSOR_FORMATS[sensor]) };
  }
  const widthMm = requireInRange(`${param}.widthMm`, sensor.widthMm, 1, 1000, "mm");
  const heightMm = requireInRange(`${param}.heightMm`, sensor.heightMm, 1, 1000, "mm");
  const size = measures({ widthMm, heightMm });
  if (sensor.widthPx === undefined) return size;
  const widthPx = requireInRange(`${param}.widthPx`, sensor.widthPx, 16, 200_000, "px");
  const heightPx = Math.round((widthPx * heightMm) / widthMm);
  return Object.assign(size, { widthPx, heightPx, pixelPitchUm: (1000 * widthMm) / widthPx });
}

/** Turn a sensor the way the frame is held: `widthMm` is horizontal. */
export function asHeld(sensor: SensorReading, orientation: FrameOrientation, param = "orientation"): SensorReading {
  if (orientation === "landscape") return sensor;
  if (orientation !== "portrait") {
    throw new DomainError({ param, given: orientation, allowed: "landscape, portrait" });
  }
  const { widthMm, heightMm, widthPx, heightPx } = sensor;
  const turned = { ...sensor, widthMm: heightMm, heightMm: widthMm };
  return widthPx === undefined || heightPx === undefined ? turned : { ...turned, widthPx: heightPx, heightPx: widthPx };
}

function measures({ widthMm, heightMm }: FormatSize): SensorReading {
  const diagonalMm = Math.hypot(widthMm, heightMm);
  return { widthMm, heightMm, diagonalMm, cropFactor: FULL_FRAME_DIAGONAL_MM / diagonalMm };
}
