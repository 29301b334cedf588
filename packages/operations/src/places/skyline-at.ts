import { flatHorizon, type HorizonProfile } from "@fieldstop/core/horizon";
import type { Horizon, HorizonReport } from "@fieldstop/core/light";
import type { Assumption } from "@fieldstop/core/notes";
import type { Dependencies, Viewpoint } from "../dependencies";
import type { HorizonInput } from "./horizon-input";
import { resolveHorizon } from "./resolve-horizon";

/** A skyline as framing needs it: always a profile, and the eye that sees it. */
export interface Skyline {
  readonly horizon: Horizon;
  readonly profile: HorizonProfile;
  readonly eyeHeightM: number;
  readonly groundElevationM: number | undefined;
  /** The skyline that was reckoned with, without its nodes. */
  readonly report: HorizonReport;
  readonly assumptions: readonly Assumption[];
}

// Common practice: a standing person, the camera at the eye
const USUAL_EYE_HEIGHT_M = 1.6;

/** The skyline that a request asks for; where it has none, that of the sea, which dips with the eye height. */
export async function skylineAt(
  dependencies: Dependencies,
  place: Viewpoint,
  input: HorizonInput | undefined,
): Promise<Skyline> {
  const { horizon, groundElevationM, assumptions } = await resolveHorizon(dependencies, place, input);
  const { eyeHeightM = USUAL_EYE_HEIGHT_M } = place;
  const why = "a standing person with the camera at the eye";
  return {
    horizon,
    profile: horizon.kind === "flat" ? flatHorizon(eyeHeightM) : horizon.profile,
    eyeHeightM,
    groundElevationM,
    report: reportOf(horizon),
    assumptions:
      place.eyeHeightM === undefined ? [{ field: "eyeHeightM", value: eyeHeightM, why }, ...assumptions] : assumptions,
  };
}

function reportOf(horizon: Horizon): HorizonReport {
  if (horizon.kind === "flat") return { kind: "flat" };
  const { kind, source, missingTiles } = horizon;
  return { kind, ...(source && { source }), ...(missingTiles && { missingTiles }) };
}
