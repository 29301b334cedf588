import { markdown, plainText } from "../forecast/texts";
import type { Channel } from "./channel";
import { post } from "./post";

export interface ChatSettings {
  readonly url: string;
  /** What `text` holds. */
  readonly text: "plain" | "markdown";
  readonly timeoutMs: number;
}

/** A chat's incoming webhook: `{ "text", "markdown" }`, or Markdown in `text` alone for those that read it there. */
export function chatChannel({ url, text, timeoutMs }: ChatSettings): Channel {
  return {
    deliver({ messageId, message }, signal) {
      const body =
        text === "plain" ? { text: plainText(message), markdown: markdown(message) } : { text: markdown(message) };
      return post({ url, body: JSON.stringify(body), headers: { "webhook-id": messageId }, timeoutMs, signal });
    },
  };
}
