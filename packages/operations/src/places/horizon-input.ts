import type { HorizonPoint } from "@fieldstop/core/horizon";

/** The skyline that a request asks to be reckoned with. */
export type HorizonInput =
  | { readonly kind: "terrain" }
  | { readonly kind: "flat" }
  | { readonly kind: "profile"; readonly points: readonly HorizonPoint[] };
