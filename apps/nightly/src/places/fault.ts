import { printable } from "../text/printable";

/** One thing wrong with a places file. */
export interface PlacesFault {
  /** Where in the file, counted from 1, if it can be told. */
  readonly line?: number | undefined;
  /** The field, such as `places.3.latitude`. */
  readonly path: string;
  readonly detail: string;
}

const MOST_TOLD = 100;

/** A places file that cannot be used, with everything that is wrong with it. */
export class PlacesError extends Error {
  override readonly name = "PlacesError";

  constructor(
    readonly file: string,
    readonly faults: readonly PlacesFault[],
  ) {
    const told = faults.slice(0, MOST_TOLD).map((fault) => sentence(file, fault));
    const untold = faults.length - told.length;
    super([...told, ...(untold > 0 ? [`and ${untold} more`] : [])].join("\n"));
  }
}

function sentence(file: string, { line, path, detail }: PlacesFault): string {
  return printable(`${file}${line === undefined ? "" : `:${line}`}: ${path === "" ? "" : `${path}: `}${detail}`);
}
