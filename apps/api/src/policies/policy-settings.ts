import type { Compress } from "./encoding";

/** What the policies need from outside; each is optional, so that the app runs wherever there is `fetch`. */
export interface PolicySettings {
  /** Most that kept answers may take; default 64 MB. */
  readonly responseCacheBytes?: number;
  readonly compress?: Compress;
}
