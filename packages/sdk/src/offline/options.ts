import type { CallOptions } from "../call-options.js";

/** What may go with any call that is answered without a network. */
export interface OfflineOptions extends CallOptions {
  /** The present, where a request leaves it out [Unix ms]; default: the clock of the device. */
  readonly nowMs?: number;
  /** IANA zone of a place, where a request leaves it out; default: a table that is loaded when first needed. */
  readonly timeZoneAt?: (latitude: number, longitude: number) => string;
}
