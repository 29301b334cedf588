import { type Assumption, type BracketReview, DomainError, type ReviewRequest, reviewBracket } from "@fieldstop/core";
import { type FieldError, refusalFromDomain } from "@fieldstop/operations";
import pLimit from "p-limit";
import { oneLine } from "../formats/escape";
import { ProblemError } from "../problems/problem";
import { type BiasSource, photoBiases } from "./photo-biases";
import type { Photo, PhotoReader } from "./photo-reader";
import { UnreadablePhoto } from "./unreadable-photo";
import type { UploadedFile } from "./uploaded-file";

export const MAX_PHOTOS = 15;
export const MAX_PHOTO_BYTES = 25 * 1024 * 1024;
/** Photographs, and 256 KiB for the other parts and what lies between parts. */
export const MAX_FORM_BYTES = MAX_PHOTOS * MAX_PHOTO_BYTES + 256 * 1024;

/** Of one form, so that forms take turns. */
const READ_AT_ONCE = 2;

export interface PhotosToReview {
  readonly photos: readonly UploadedFile[];
  readonly options?: Omit<ReviewRequest, "frames">;
  readonly biasStops?: readonly number[];
}

export interface PhotosReview extends BracketReview {
  readonly biasFrom: BiasSource;
  /** In the order given. */
  readonly photos: readonly (Omit<Photo, "histogram" | "hasProfile"> & { readonly name: string })[];
}

/**
 * Review a bracket from its photographs, until the signal is aborted.
 * @param spent called with how long each took to decode [ms]
 */
export async function reviewPhotos(
  reader: PhotoReader,
  form: PhotosToReview,
  signal?: AbortSignal,
  spent?: (ms: number) => void,
): Promise<PhotosReview> {
  requireBytes(form.photos);
  requireBiasEach(form);
  const photos = await readAll(reader, form.photos, signal, spent);
  const { biasStops, biasFrom, assumptions } = photoBiases(
    photos.map(({ exposure }) => exposure),
    form.biasStops,
  );
  const frames = photos.map(({ histogram, coding }, i) => ({ biasStops: biasStops[i] as number, histogram, coding }));
  const review = inTermsOfForm(form, () => reviewBracket({ ...form.options, frames }));
  return {
    ...review,
    biasFrom,
    photos: photos.map(({ histogram: _, hasProfile: __, ...photo }, i) => ({
      name: oneLine((form.photos[i] as UploadedFile).name),
      ...photo,
    })),
    assumptions: [...assumptions, ...notesOn(photos), ...review.assumptions],
  };
}

function requireBytes(files: readonly UploadedFile[]): void {
  const errors = files.flatMap((file, i): FieldError[] =>
    file.size <= MAX_PHOTO_BYTES
      ? []
      : [
          {
            pointer: `form:photos/${i}`,
            detail: "this file is too large",
            received: `${file.size} bytes`,
            allowed: `at most ${MAX_PHOTO_BYTES} bytes`,
          },
        ],
  );
  if (errors.length > 0) throw new ProblemError("body-too-large", { detail: "A photograph is too large.", errors });
}

function requireBiasEach({ photos, biasStops }: PhotosToReview): void {
  if (biasStops === undefined || biasStops.length === photos.length) return;
  const detail = "there must be one bias for each photograph";
  const error = { pointer: "form:biasStops", detail, received: biasStops.length, allowed: `${photos.length} biases` };
  throw new ProblemError("invalid-input", { detail, errors: [error] });
}

/** Each photograph, or a problem that names all those that cannot be read. */
async function readAll(
  reader: PhotoReader,
  files: readonly UploadedFile[],
  signal?: AbortSignal,
  spent?: (ms: number) => void,
): Promise<Photo[]> {
  const errors: FieldError[] = [];
  const inTurn = pLimit(READ_AT_ONCE);
  const photos = await Promise.all(
    files.map(async (file, i) => {
      try {
        return await inTurn(() => reader.read(file, signal, spent));
      } catch (error) {
        if (!(error instanceof UnreadablePhoto)) throw error;
        const { message: detail, received, allowed } = error;
        errors.push({ pointer: `form:photos/${i}`, detail, received, allowed });
        return undefined;
      }
    }),
  );
  const read = photos.filter((photo) => photo !== undefined);
  if (read.length === photos.length) return read;
  errors.sort((a, b) => a.pointer.localeCompare(b.pointer, "en", { numeric: true }));
  const detail = errors.map((error) => `${error.pointer}: ${error.detail}`).join("; ");
  throw new ProblemError("invalid-input", { detail, errors });
}

function notesOn(photos: readonly Photo[]): Assumption[] {
  const notes: Assumption[] = [];
  const first = photos[0] as Photo;
  const profiles = photos.filter(({ hasProfile }) => hasProfile).length;
  if (profiles > 0) {
    const why = `${profiles} of ${photos.length} photographs carry a colour profile, which is not applied`;
    notes.push({ field: "photos.profile", value: "ignored", why });
  }
  if (photos.some(({ widthPx, heightPx }) => widthPx * heightPx !== first.widthPx * first.heightPx)) {
    const why = "the photographs differ in size; shares of pixels are compared, as if they showed the same";
    notes.push({ field: "photos.size", value: "the same view", why });
  }
  const codings = new Set(photos.map(({ coding }) => coding));
  for (const coding of codings) {
    const why =
      coding === "srgb"
        ? "photographs without a tag that says linear count as finished in sRGB, without a further tone curve"
        : "photographs that record a gamma of 1 count by light";
    notes.push({ field: "photos.coding", value: coding, why });
  }
  return notes;
}

/** What core refuses, named by the part of the form that it came from. */
function inTermsOfForm<T>({ biasStops }: PhotosToReview, calculate: () => T): T {
  try {
    return calculate();
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    const [top, place, field] = error.param.split(".");
    const frame = field === "biasStops" && biasStops !== undefined ? `biasStops.${place}` : `photos.${place}`;
    const param = top === "frames" ? frame : `options.${error.param}`;
    const { code, given, allowed, unit } = error;
    throw refusalFromDomain(
      new DomainError({ code, param, given, allowed, ...(unit === undefined ? {} : { unit }) }),
      "form",
    );
  }
}
