import type { PlacesFile } from "./schema";

type WrittenPlace = PlacesFile["places"][number];

/** A place with all that was left to the defaults filled in. */
export interface Place
  extends Omit<
    WrittenPlace,
    "timeZone" | "postAt" | "session" | "leadDays" | "kit" | "channels" | "camera" | "filters"
  > {
  readonly timeZone: string;
  /** Local hour of the posting, `HH:MM`. */
  readonly postAt: string;
  readonly session: "evening" | "morning";
  /** Days from the local date of the posting to that of the night. */
  readonly leadDays: number;
  readonly camera: NonNullable<WrittenPlace["camera"]>;
  readonly filters?: WrittenPlace["filters"];
  /** Names of the channels that it is posted to. */
  readonly channels: readonly string[];
}
