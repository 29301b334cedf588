import * as operations from "@fieldstop/operations/sky";
import type {
  DewPointAnswer,
  GetDewPointData,
  GetMoonPositionData,
  GetSunPositionData,
  MoonPosition,
  SunPosition,
} from "../generated/types.gen.js";
import { answered } from "./answered.js";
import { answeredAt } from "./answered-at.js";
import type { OfflineOptions } from "./options.js";

/** Where the sun stands, without a network. */
export function getSunPosition(query: GetSunPositionData["query"], options?: OfflineOptions): Promise<SunPosition> {
  return answeredAt("/v1/sun", "query", options, [query], (around) => operations.getSunPosition(around, query));
}

/** Where the moon stands, without a network. */
export function getMoonPosition(query: GetMoonPositionData["query"], options?: OfflineOptions): Promise<MoonPosition> {
  return answeredAt("/v1/moon", "query", options, [query], (around) => operations.getMoonPosition(around, query));
}

/** Whether a lens will fog, without a network. */
export function getDewPoint(query: GetDewPointData["query"], options?: OfflineOptions): Promise<DewPointAnswer> {
  return answered("/v1/dew-point", "query", options, () => operations.getDewPoint(query));
}
