import { plainText } from "../forecast/texts";
import type { Channel } from "./channel";

/** Standard output. What was printed when the process died before it could note so is printed again. */
export function consoleChannel(print: (text: string) => Promise<void>): Channel {
  return {
    async deliver({ message }) {
      try {
        await print(`${plainText(message)}\n\n`);
        return { kind: "delivered" };
      } catch (error) {
        return { kind: "failed", reason: (error as Error).message };
      }
    },
  };
}
