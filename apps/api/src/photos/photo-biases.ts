import { type Assumption, nearestApertureMark, nearestIsoMark, nearestShutterMark } from "@fieldstop/core";
import { ProblemError } from "../problems/problem";
import type { RecordedExposure } from "./photo-reader";

/** Where biases come from: the caller, time and aperture and ISO as recorded, or the bias that the camera was set to. */
export const BIAS_SOURCES = Object.freeze(["given", "exposure", "exposure-bias"] as const);
export type BiasSource = (typeof BIAS_SOURCES)[number];

export interface PhotoBiases {
  readonly biasStops: readonly number[];
  readonly biasFrom: BiasSource;
  readonly assumptions: readonly Assumption[];
}

/**
 * The bias of each photograph [stops]: as given, else from the light that time, aperture and ISO let in against the middle frame, else as the camera was set.
 * The exposure comes first, since a camera on manual records no bias.
 * @throws ProblemError that names each photograph that says nothing of its exposure
 */
export function photoBiases(exposures: readonly RecordedExposure[], given?: readonly number[]): PhotoBiases {
  if (given !== undefined) return { biasStops: given, biasFrom: "given", assumptions: [] };
  const constant = (["aperture", "iso"] as const).filter((key) => exposures.every((each) => each[key] === undefined));
  const levels = exposures.map((each) => exposureStops(each, constant));
  if (levels.every((level) => level !== undefined)) return fromLevels(levels, constant);
  const set = exposures.map(({ biasStops }) => biasStops);
  if (set.every((bias) => bias !== undefined)) {
    const why = "not all photographs record time, aperture and ISO, so the bias that the camera was set to is used";
    return {
      biasStops: set,
      biasFrom: "exposure-bias",
      assumptions: [{ field: "biasStops", value: "exposure-bias", why }],
    };
  }
  // where most frames record their settings, those that do not are at fault; else those without a bias
  const settings = levels.filter((level) => level !== undefined).length;
  const biases = set.filter((bias) => bias !== undefined).length;
  throw unknownBiases(settings >= biases ? levels : set);
}

function fromLevels(levels: readonly number[], constant: readonly string[]): PhotoBiases {
  const middle = [...levels].sort((a, b) => a - b)[(levels.length - 1) >> 1] as number;
  return {
    biasStops: levels.map((level) => level - middle),
    biasFrom: "exposure",
    assumptions: [
      {
        field: "biasStops",
        value: "exposure",
        why: "biases are from time, aperture and ISO as recorded, against the photograph with the middle exposure",
      },
      ...constant.map((field) => ({
        field: `photos.${field}`,
        value: "the same for all",
        why: "no photograph records it",
      })),
    ],
  };
}

/**
 * Light let in against 1 s at f/1 and ISO 100 [stops]: t / N² · ISO / 100. Settings count as what their marks stand for, since cameras record 1/125 s
 * for 1/128 s, and a difference of whole stops would come out beside one.
 */
function exposureStops(recorded: RecordedExposure, constant: readonly string[]): number | undefined {
  const { shutterSeconds } = recorded;
  const aperture = constant.includes("aperture") ? 1 : recorded.aperture;
  const iso = constant.includes("iso") ? 100 : recorded.iso;
  if (shutterSeconds === undefined || aperture === undefined || iso === undefined) return undefined;
  const seconds = asMarked(shutterSeconds, nearestShutterMark(shutterSeconds));
  const stop = asMarked(aperture, nearestApertureMark(aperture));
  const speed = asMarked(iso, nearestIsoMark(iso));
  return Math.log2(seconds) - 2 * Math.log2(stop) + Math.log2(speed / 100);
}

// Records are fractions and keep three digits or so of what the mark says. Our choice.
const SAME_MARK = 0.005;

function asMarked(recorded: number, mark: { readonly exact: number; readonly value: number }): number {
  return Math.abs(recorded / mark.value - 1) < SAME_MARK ? mark.exact : recorded;
}

function unknownBiases(known: readonly (number | undefined)[]): ProblemError {
  const detail =
    "this photograph does not record the exposure time, aperture and ISO, nor a bias, that the others would compare with";
  const allowed = "photographs that record their exposure, or the field biasStops with a bias for each";
  const errors = known.flatMap((level, i) =>
    level === undefined ? [{ pointer: `form:photos/${i}`, detail, allowed }] : [],
  );
  return new ProblemError("invalid-input", {
    detail: `The bias of ${errors.length} of ${known.length} photographs is unknown.`,
    errors,
  });
}
