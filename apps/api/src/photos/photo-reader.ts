import type { Histogram, HistogramCoding } from "@fieldstop/core";

/** What a camera wrote about the exposure; absent where it wrote nothing of use. */
export interface RecordedExposure {
  readonly shutterSeconds?: number;
  readonly aperture?: number;
  readonly iso?: number;
  /** What the camera was set to, against its meter [stops]. */
  readonly biasStops?: number;
}

export interface Photo {
  readonly format: PhotoFormat;
  readonly widthPx: number;
  readonly heightPx: number;
  readonly bitsPerChannel: 8 | 16;
  /** Whether it carries a colour profile, which is not applied. */
  readonly hasProfile: boolean;
  readonly coding: HistogramCoding;
  /** 256 bins for 8 bits a channel, 4096 for 16. */
  readonly histogram: Histogram;
  readonly exposure: RecordedExposure;
}

export const PHOTO_FORMATS = Object.freeze(["jpeg", "png", "tiff"] as const);
export type PhotoFormat = (typeof PHOTO_FORMATS)[number];

/** Reads photographs; a platform that cannot decode pictures has none. */
export interface PhotoReader {
  /**
   * @param signal once aborted, decoding ends
   * @param spent called with how long decoding took [ms], whatever it came to
   * @throws UnreadablePhoto for what is no photograph that it takes; the signal's reason
   */
  read(file: Pick<Blob, "size" | "stream">, signal?: AbortSignal, spent?: (ms: number) => void): Promise<Photo>;
}
