import type { Exchange } from "./middleware/exchange";
import type { Services } from "./services";

/** What every handler finds in its context. */
export interface AppEnv {
  Bindings: { exchange: Exchange };
  Variables: { services: Services };
}
