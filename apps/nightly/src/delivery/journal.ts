import type { Entry } from "../ledger/ledger";

/** Is told what happens, for a terminal or a log. */
export interface Journal {
  /** So many forecasts are asked for. */
  requested(count: number): void;
  /** One came, or was refused. */
  made(placeId: string, date: string, refused?: string): void;
  /** An entry came to a new state, or waits for another try. */
  entry(entry: Entry): void;
  /** Anything else a keeper wants to know. */
  note(text: string): void;
}
