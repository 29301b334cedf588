import type { Services } from "./services";

/** What every handler finds in its context. */
export interface AppEnv {
  Variables: { services: Services; requestId: string };
}
