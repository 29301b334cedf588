import { Webhook } from "standardwebhooks";
import type { Channel } from "./channel";
import { post } from "./post";

export interface WebhookSettings {
  readonly url: string;
  /** `whsec_…`, the current one first. */
  readonly secrets: readonly string[];
  readonly timeoutMs: number;
  readonly full: boolean;
}

/**
 * A signed webhook as Standard Webhooks lays it down: the id stays the same in every try, so that the receiver knows a
 * repetition; time and signature are those of the try.
 */
export function webhookChannel({ url, secrets, timeoutMs, full }: WebhookSettings): Channel {
  const signers = secrets.map((secret) => new Webhook(secret));
  return {
    full,
    deliver({ messageId, message }, signal) {
      const body = JSON.stringify({ type: "forecast.night", timestamp: message.madeAt, data: message });
      const now = new Date();
      const headers = {
        "webhook-id": messageId,
        "webhook-timestamp": String(Math.floor(now.getTime() / 1000)),
        "webhook-signature": signers.map((signer) => signer.sign(messageId, now, body)).join(" "),
      };
      return post({ url, body, headers, timeoutMs, signal });
    },
  };
}
