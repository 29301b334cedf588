import { DomainError, requireInRange } from "../domain-error";
import { ev100FromEv, exposureValue, requireEv100 } from "../exposure/exposure-value";
import { readAperture, readIso, readShutter, type ShutterSetting, shutterSetting } from "../exposure/settings";
import { solveExposure } from "../exposure/solve";

/** The exposure before any filter: as a shutter time, as the light with aperture and ISO, or both where one does not give the other. */
export interface BaseExposure {
  /** Shutter time without filters [s]. */
  readonly baseShutterSeconds?: number;
  /** f-number as typed; a mark is read as what it stands for. Only together with `iso`. */
  readonly aperture?: number;
  /** ISO as typed; a mark is read as what it stands for. Only together with `aperture`. */
  readonly iso?: number;
  /** The light [EV100]. */
  readonly ev100?: number;
}

/** What is known of the exposure before any filter. */
export interface BaseReading {
  readonly shutter?: ShutterSetting;
  readonly ev100?: number;
}

/**
 * Reads what is known of the exposure without filters. A time with aperture and ISO gives the light; the light with both gives the time.
 * @param timesAre whether a typed time is a mark of the dial (1/125 s is 1/128 s) or the time that it says
 * @throws DomainError out of range, for aperture or ISO alone, and for a time and a light that would each give the other
 */
export function readBaseExposure(request: BaseExposure, timesAre: "marks" | "values"): BaseReading {
  const { baseShutterSeconds, aperture, iso } = request;
  if ((aperture === undefined) !== (iso === undefined)) {
    const param = aperture === undefined ? "aperture" : "iso";
    throw new DomainError({ param, given: undefined, allowed: "aperture and iso together, or neither" });
  }
  const ev100 = request.ev100 === undefined ? undefined : requireEv100("ev100", request.ev100);
  if (baseShutterSeconds === undefined) {
    if (ev100 === undefined || aperture === undefined) return ev100 === undefined ? {} : { ev100 };
    const { shutter } = solveExposure({ ev100, aperture, iso: iso as number });
    return { shutter, ev100 };
  }
  const shutter =
    timesAre === "marks"
      ? readShutter(baseShutterSeconds, undefined, "baseShutterSeconds")
      : shutterSetting(requireInRange("baseShutterSeconds", baseShutterSeconds, 1e-6, 1e7, "s"), "value");
  if (aperture === undefined) return ev100 === undefined ? { shutter } : { shutter, ev100 };
  if (ev100 !== undefined) {
    const allowed = "baseShutterSeconds or ev100, not both, where aperture and iso are given";
    throw new DomainError({ param: "ev100", given: ev100, allowed });
  }
  const ev = exposureValue(readAperture(aperture).exact, shutter.seconds);
  return { shutter, ev100: requireEv100("ev100", ev100FromEv(ev, readIso(iso as number).exact)) };
}
