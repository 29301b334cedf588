import type { ByteStore } from "../byte-store";
import { cellName, type DegreeCell } from "../tiles/degree-cell";

/** How long a deepest zoom counts: a remote may have finer tiles one day [ms]. */
const FOUND_FOR_MS = 7 * 24 * 3_600_000;

interface Record {
  readonly zoom: number;
  readonly foundAtMs: number;
}

/** Which zooms turned out to be the deepest that a remote has, by degree cell. Only what it did answer is noted here. */
export class ZoomMemory {
  readonly #template: string;
  readonly #store: ByteStore | undefined;
  #last: number | undefined;

  /** @param store where this outlives the process */
  constructor(template: string, store: ByteStore | undefined) {
    this.#template = template;
    this.#store = store;
  }

  /** The one found last: next to it is where to look first in another cell. */
  get last(): number | undefined {
    return this.#last;
  }

  /** The deepest zoom in a cell; null where it must be looked for. */
  async at(cell: DegreeCell): Promise<number | null> {
    const bytes = (await this.#store?.get(this.#key(cell))) ?? null;
    if (bytes === null) return null;
    const { zoom, foundAtMs } = JSON.parse(Buffer.from(bytes).toString("utf8")) as Record;
    return Date.now() - foundAtMs < FOUND_FOR_MS ? zoom : null;
  }

  note(cell: DegreeCell, zoom: number): void {
    this.#last = zoom;
    const record: Record = { zoom, foundAtMs: Date.now() };
    void this.#store?.set(this.#key(cell), Buffer.from(JSON.stringify(record)));
  }

  #key(cell: DegreeCell): string {
    return `deepest zoom ${this.#template} ${cellName(cell)}`;
  }
}
