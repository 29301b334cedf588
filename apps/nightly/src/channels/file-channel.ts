import { writeFileAtomically } from "../files/write-file";
import type { FeedItem, Ledger } from "../ledger/ledger";
import type { Channel } from "./channel";

export interface FileSettings {
  readonly file: string;
  readonly keepNights: number;
}

/** A file that shows the latest nights: its text is made anew from the ledger, so that doing it twice changes nothing. */
export function fileChannel(
  { file, keepNights }: FileSettings,
  ledger: Ledger,
  render: (items: readonly FeedItem[]) => string,
): Channel {
  const write = (): Promise<void> =>
    ledger.exclusively(file, async () => {
      waiting = undefined;
      await writeFileAtomically(file, render(await ledger.items(file, keepNights)));
    });
  // deliveries that come while the file is being written share the next writing: a thousand places do not write it a thousand times
  let waiting: Promise<void> | undefined;
  return {
    async deliver({ messageId, message }) {
      try {
        await ledger.addItem(file, { id: messageId, updatedMs: Date.parse(message.madeAt), message });
        waiting ??= write();
        await waiting;
        return { kind: "delivered" };
      } catch (error) {
        const { code, message: reason } = error as NodeJS.ErrnoException;
        if (code === undefined) throw error;
        return { kind: "failed", reason };
      }
    },
  };
}
