/** What the command ends with; `docs/nightly.md` tells of each. */
export const ExitCode = {
  /** All was delivered, or there was nothing to do; a runner that was asked to stop. */
  done: 0,
  /** A fault of the command's own. */
  fault: 1,
  /** The command line, the places file or the environment makes no sense: nothing was done. */
  misuse: 2,
  /** The pass ended, but deliveries wait, died, or were missed. */
  unfinished: 3,
  /** Another runner posts from this ledger. */
  inUse: 4,
  /** The forecast service could not be asked. */
  unreachable: 5,
  /** The ledger cannot be written any more, or is damaged. */
  ledger: 6,
} as const;
export type ExitCode = (typeof ExitCode)[keyof typeof ExitCode];
