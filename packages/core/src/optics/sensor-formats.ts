/** Width and height of the image on the sensor or film [mm], the longer side across. */
export interface FormatSize {
  readonly widthMm: number;
  readonly heightMm: number;
}

// Usable image areas. Full frame is the 24 mm by 36 mm frame of 135 film (ISO 1007); Four Thirds is its own standard's 17.3 mm by 13 mm.
// The others are the sizes that makers print, which vary by some tenths of a millimetre from camera to camera: common practice.
// Film sizes are those of usual cameras, short of the nominal name: common practice.
export const SENSOR_FORMATS = Object.freeze({
  "full-frame": { widthMm: 36, heightMm: 24 },
  "aps-h": { widthMm: 28.7, heightMm: 19 },
  "aps-c": { widthMm: 23.6, heightMm: 15.7 },
  "aps-c-1.6x": { widthMm: 22.3, heightMm: 14.9 },
  "four-thirds": { widthMm: 17.3, heightMm: 13 },
  "one-inch": { widthMm: 13.2, heightMm: 8.8 },
  "two-thirds-inch": { widthMm: 8.8, heightMm: 6.6 },
  "one-over-1.3-inch": { widthMm: 9.8, heightMm: 7.3 },
  "one-over-2.3-inch": { widthMm: 6.17, heightMm: 4.55 },
  "medium-44x33": { widthMm: 43.8, heightMm: 32.9 },
  "medium-54x40": { widthMm: 53.4, heightMm: 40 },
  "film-6x4.5": { widthMm: 56, heightMm: 42 },
  "film-6x6": { widthMm: 56, heightMm: 56 },
  "film-6x7": { widthMm: 69, heightMm: 56 },
  "film-6x9": { widthMm: 84, heightMm: 56 },
  "film-6x17": { widthMm: 168, heightMm: 56 },
  "large-4x5": { widthMm: 120, heightMm: 96 },
  "large-8x10": { widthMm: 245, heightMm: 194 },
} satisfies Record<string, FormatSize>);

export type SensorFormatName = keyof typeof SENSOR_FORMATS;

/** The names of the formats, as they may be asked for. */
export const SENSOR_FORMAT_NAMES = Object.freeze(Object.keys(SENSOR_FORMATS)) as readonly SensorFormatName[];
