import type {
  Assumption as CoreAssumption,
  Caution as CoreCaution,
  MoonPosition as CoreMoonPosition,
  MoonPhase,
} from "@fieldstop/core";
import { z } from "@hono/zod-openapi";
import { Instant } from "../shared/instant";
import { Assumption, Caution } from "../shared/notes";
import type { Assert, SameShape } from "../shared/same-shape";
import { SkyPosition } from "../shared/sky-position";
import { MoonPhaseName } from "./moon-phase-name.schema";

export const MoonPosition = z
  .object({
    instant: Instant,
    ...SkyPosition.shape,
    distanceKm: z.number().openapi({ description: "From the earth's centre to the moon's [km]" }),
    semidiameterDeg: z.number().openapi({ description: "Half the width of the disc, seen from the place [deg]" }),
    illuminatedFraction: z.number().openapi({ description: "Part of the disc that is lit, 0 to 1" }),
    phase: z.number().openapi({
      description: "Round of the phases, 0 to 1: 0 new, 0.25 first quarter, 0.5 full, 0.75 last quarter",
    }),
    phaseName: MoonPhaseName,
    phaseAngleDeg: z.number().openapi({
      description: "Angle between sun and earth as seen from the moon [deg]: 0 at full, 180 at new",
    }),
    timeZone: z.string(),
    assumptions: z.array(Assumption),
    cautions: z.array(Caution),
  })
  .openapi("MoonPosition");

interface Answer extends CoreMoonPosition, MoonPhase {
  readonly instant: string;
  readonly timeZone: string;
  readonly assumptions: readonly CoreAssumption[];
  readonly cautions: readonly CoreCaution[];
}

export type MoonPositionCheck = Assert<SameShape<z.output<typeof MoonPosition>, Answer>>;
