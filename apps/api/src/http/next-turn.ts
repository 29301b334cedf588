/** Lets everything else that waits have its turn: at once where the platform can say so, else after a timer's least time. */
export const nextTurn: () => Promise<void> =
  typeof setImmediate === "function"
    ? () => new Promise((resolve) => setImmediate(resolve))
    : () => new Promise((resolve) => setTimeout(resolve, 0));
