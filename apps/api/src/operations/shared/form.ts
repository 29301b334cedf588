import { z } from "@hono/zod-openapi";
import { isUploadedFile, type UploadedFile } from "../../photos/uploaded-file";

/** What a text part of a form holds: JSON where it is JSON, else the text itself. */
export function partValue(part: unknown): unknown {
  if (typeof part !== "string") return part;
  try {
    return JSON.parse(part);
  } catch {
    return part;
  }
}

/** A part that is JSON. */
export function jsonPart<S extends z.ZodType>(schema: S) {
  return z.preprocess(partValue, schema);
}

/** A list, as one JSON array or as a part of the same name for each entry. */
export function listPart<S extends z.ZodType>(schema: S) {
  return z.preprocess((parts) => (parts === undefined ? undefined : [parts].flat().flatMap(partValue)), schema);
}

/** A file. */
export function filePart(description: string) {
  return z
    .custom<UploadedFile>((part) => isUploadedFile(part) && part.size > 0, {
      message: "not a file with anything in it",
      params: { allowed: "a file" },
    })
    .openapi({ type: "string", format: "binary", description });
}

/** A form as its schema sees it, so that an error can say what came. */
export function formValues(parts: Readonly<Record<string, unknown>>): Record<string, unknown> {
  const entries = Object.entries(parts).map(([name, part]) => [
    name,
    Array.isArray(part) ? part.flatMap(partValue) : partValue(part),
  ]);
  return Object.fromEntries(entries);
}
