import type { Journal } from "../delivery/journal";
import type { Entry } from "../ledger/ledger";
import type { Counts } from "./tally";

const REPAINT_MS = 100;

export interface Terminal {
  readonly columns?: number | undefined;
  write(text: string): unknown;
}

/** For a terminal: one line that tells how far it is, and a line above it for each thing that went wrong. */
export function terminalJournal(terminal: Terminal, counts: () => Counts): Journal & { end(): void } {
  let painted = false;
  let timer: NodeJS.Timeout | undefined;
  const clear = (): void => {
    if (painted) terminal.write("\r\u001b[K");
    painted = false;
  };
  const paint = (): void => {
    timer = undefined;
    clear();
    terminal.write(progressLine(counts()).slice(0, (terminal.columns ?? 80) - 1));
    painted = true;
  };
  const repaint = (): void => {
    timer ??= setTimeout(paint, REPAINT_MS);
  };
  const above = (text: string): void => {
    clear();
    terminal.write(`${text}\n`);
    repaint();
  };
  return {
    requested: repaint,
    made: repaint,
    entry({ key, messageId, state, reason, attempts }: Entry) {
      if (state === "dead") above(`dead after ${attempts} tries: ${key} (${messageId}): ${reason}`);
      else if (state === "missed") above(`missed: ${key}: ${reason}`);
      else repaint();
    },
    note: above,
    end() {
      clearTimeout(timer);
      clear();
    },
  };
}

function progressLine({ forecastsRequested, forecastsMade, delivered, retries, dead, missed }: Counts): string {
  const parts = [`forecasts ${forecastsMade}/${forecastsRequested}`, `delivered ${delivered}`];
  if (retries > 0) parts.push(`retries ${retries}`);
  if (dead > 0) parts.push(`dead ${dead}`);
  if (missed > 0) parts.push(`missed ${missed}`);
  return parts.join("  ");
}
