import type { HorizonQuestion, SharedTerrain } from "@fieldstop/terrain";
import { z } from "zod";
import { Alignments } from "../operations/light/alignments.schema";
import { Assumption } from "../operations/shared/notes";
import type { JobInput } from "./jobs";
import type { SharedJob } from "./shared-work";

const latitude = z.number().min(-90).max(90);
const longitude = z.number().min(-180).max(180);
const MAX_AZIMUTHS = 100_000;

const Question = z.strictObject({
  latitude,
  longitude,
  elevationM: z.number().min(-500).max(9000).optional(),
  eyeHeightM: z.number().min(0.5).max(1000),
  stepDeg: z.number().min(0.05).max(30),
  refined: z.boolean(),
  radiusKm: z.number().min(0.1).max(400),
});

const azimuthDeg = z.number().min(0).max(360);
const Profile = z
  .object({
    azimuthsDeg: z.array(azimuthDeg).min(1).max(MAX_AZIMUTHS),
    altitudesDeg: z.array(z.number().min(-90).max(90)),
    distancesM: z.array(z.number().nullable()).optional(),
  })
  .refine(({ azimuthsDeg, altitudesDeg }) => azimuthsDeg.length === altitudesDeg.length);

const Search = z.strictObject({
  place: z.object({ latitude, longitude, elevationM: z.number().optional() }),
  timeZone: z.string().max(100),
  body: z.enum(["sun", "moon"]),
  target: z.discriminatedUnion("kind", [
    z.object({ kind: z.literal("direction"), azimuthDeg, altitudeDeg: z.number() }),
    z.object({ kind: z.literal("skyline"), azimuthDeg, limb: z.enum(["upper", "centre", "lower"]).optional() }),
  ]),
  toleranceDeg: z.number().optional(),
  from: z.string().max(20),
  to: z.string().max(20),
  profile: Profile.optional(),
  sunAltitudeDeg: z.tuple([z.number(), z.number()]).optional(),
  illuminatedFraction: z.tuple([z.number(), z.number()]).optional(),
  limit: z.number().optional(),
});

const Input = z.strictObject({ request: Search, assumptions: z.array(Assumption) });

type AlignmentSearch = (input: JobInput<"alignmentsJson">) => Promise<string>;

/** What replicas do for each other: skylines, which lie in their store when found, and alignments. */
export function sharedJobs(terrain: Pick<SharedTerrain, "findAndKeep">, alignmentsJson: AlignmentSearch) {
  return {
    findHorizon: {
      run: (question) => terrain.findAndKeep(question),
      isInput: (value) => Question.safeParse(value).success,
      isResult: (value) => value === undefined,
    } satisfies SharedJob<HorizonQuestion, void>,
    alignmentsJson: {
      run: alignmentsJson,
      isInput: (value) => Input.safeParse(value).success,
      isResult: (value) => typeof value === "string" && isAlignments(value),
    } satisfies SharedJob<JobInput<"alignmentsJson">, string>,
  };
}

function isAlignments(text: string): boolean {
  try {
    return Alignments.safeParse(JSON.parse(text)).success;
  } catch {
    return false;
  }
}
