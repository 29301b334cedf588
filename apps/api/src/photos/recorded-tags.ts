import exifr from "exifr";
import type { RecordedExposure } from "./photo-reader";

const TAGS = [
  "ExposureTime",
  "FNumber",
  "ISO",
  "ExposureCompensation",
  "Gamma",
  "DNGVersion",
  "SubfileType",
  "PhotometricInterpretation",
];

export type Tags = Readonly<Record<string, unknown>>;

/** Read the tags of a TIFF structure; none where they cannot be read, since a photograph may have lost them. */
export async function recordedTags(tiff: Uint8Array | undefined): Promise<Tags> {
  if (tiff === undefined) return {};
  const options = { pick: TAGS, translateValues: false, reviveValues: false };
  return (await exifr.parse(tiff, options).catch(() => undefined)) ?? {};
}

// TIFF/EP and DNG 1.7: subfile type 1 is a preview, 32803 a colour filter array, 34892 linear raw; "CR" at byte 8 marks raw data as well
export function isRaw(bytes: Uint8Array, tags: Tags): boolean {
  const kind = tags["PhotometricInterpretation"];
  return (
    tags["DNGVersion"] !== undefined ||
    tags["SubfileType"] === 1 ||
    kind === 32_803 ||
    kind === 34_892 ||
    (bytes[8] === 0x43 && bytes[9] === 0x52)
  );
}

export function exposureOf(tags: Tags): RecordedExposure {
  const positive = (value: unknown): number | undefined =>
    typeof value === "number" && value > 0 && Number.isFinite(value) ? value : undefined;
  const shutterSeconds = positive(tags["ExposureTime"]);
  // a lens without contacts leaves 0
  const aperture = positive(tags["FNumber"]);
  const speed = tags["ISO"];
  const iso = positive(Array.isArray(speed) || speed instanceof Uint16Array ? speed[0] : speed);
  const bias = tags["ExposureCompensation"];
  return {
    ...(shutterSeconds === undefined ? {} : { shutterSeconds }),
    ...(aperture === undefined ? {} : { aperture }),
    ...(iso === undefined ? {} : { iso }),
    ...(typeof bias === "number" && Number.isFinite(bias) ? { biasStops: bias } : {}),
  };
}
