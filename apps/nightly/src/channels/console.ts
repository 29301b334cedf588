import { plainText } from "../forecast/texts";
import type { Channel } from "./channel";

/** Standard output. What was printed when the process died before it could note so is printed again. */
export function consoleChannel(write: (text: string) => void): Channel {
  return {
    async deliver({ message }) {
      write(`${plainText(message)}\n\n`);
      return { kind: "delivered" };
    },
  };
}
