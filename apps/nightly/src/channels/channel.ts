import type { Message } from "../forecast/message";
import type { Entry } from "../ledger/ledger";

/** A delivery with what it delivers. */
export type Ready = Entry & { readonly message: Message };

/** What came of one try. */
export type Outcome =
  | { readonly kind: "delivered" }
  | {
      readonly kind: "failed";
      readonly reason: string;
      /** The earliest that the receiver wants to hear again [ms from now]. */
      readonly retryAfterMs?: number;
      /** No further try can help. */
      readonly final?: boolean;
    };

export interface Channel {
  /** Whether the whole forecast goes out, rather than what is in the message. */
  readonly full?: boolean;
  /** One try; it never throws for what the receiver does. */
  deliver(entry: Ready, signal: AbortSignal): Promise<Outcome>;
}
