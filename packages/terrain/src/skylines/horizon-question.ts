import { createHash } from "node:crypto";

/** All that a skyline depends on, besides the ground. */
export interface HorizonQuestion {
  readonly latitude: number;
  readonly longitude: number;
  readonly elevationM?: number | undefined;
  readonly eyeHeightM: number;
  readonly stepDeg: number;
  /** Whether there are azimuths between, where the skyline is not straight. */
  readonly refined: boolean;
  readonly radiusKm: number;
}

/** Goes up whenever the same question over the same data gets another answer: what was kept before then counts no more. */
const FORMAT = 2;

/** The question in a line, the same for the same, in whatever order its members came from another process. */
export function questionLine(question: HorizonQuestion): string {
  const { latitude, longitude, elevationM, eyeHeightM, stepDeg, refined, radiusKm } = question;
  return [latitude, longitude, elevationM, eyeHeightM, stepDeg, refined, radiusKm].join(" ");
}

/**
 * The key of an answer by its content: the same on every replica that has the same data.
 * @param dataVersion changes when a tile does
 */
export function horizonKey(line: string, dataVersion: string): string {
  return createHash("sha256").update(`horizon ${FORMAT} ${dataVersion} ${line}`).digest("hex").slice(0, 32);
}
