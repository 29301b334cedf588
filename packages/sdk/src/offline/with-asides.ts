import type { Asides } from "@fieldstop/answers/asides";

const NOT_AT_HAND = new Error("not at hand");
const absent = (): never => {
  throw NOT_AT_HAND;
};
const NONE: Asides = {
  cannotCover: absent,
  changesDuring: absent,
  heldForVideo: absent,
  takenByFilters: absent,
};

/** An answer that most requests need no asides for: they are loaded, and the answer begun again, where one is called for. */
export async function withAsides<T>(calculate: (asides: Asides) => T): Promise<T> {
  try {
    return calculate(NONE);
  } catch (error) {
    if (error !== NOT_AT_HAND) throw error;
    return calculate((await import("./asides.js")).ASIDES);
  }
}
