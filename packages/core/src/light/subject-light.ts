import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import type { Facing } from "./direct-light";
import type { Horizon, Place, Subject } from "./light-place";

/** Where a subject stands, under which skyline, and the way it faces. */
export interface SubjectSite {
  readonly latitude: number;
  readonly longitude: number;
  readonly horizon: Horizon;
  readonly facing?: Facing;
  readonly assumptions: readonly Assumption[];
}

/** A subject with what it leaves out taken from the camera's place, and what was taken. */
export function subjectSite(subject: Subject, place: Place, horizon: Horizon): SubjectSite {
  const { latitude, longitude } = subject;
  if ((latitude === undefined) !== (longitude === undefined)) {
    const param = latitude === undefined ? "subject.latitude" : "subject.longitude";
    throw new DomainError({ param, given: undefined, allowed: "latitude and longitude, both or neither" });
  }
  const elsewhere = latitude !== undefined && longitude !== undefined;
  if (elsewhere) {
    requireInRange("subject.latitude", latitude, -90, 90, "deg");
    requireInRange("subject.longitude", longitude, -180, 180, "deg");
  }
  const { facing, assumptions } = facingOf(subject);
  const borrowed: Assumption = {
    field: "subject.horizon",
    value: "the camera's",
    why: "no skyline was given for where the subject stands",
  };
  const isBorrowed = elsewhere && subject.horizon === undefined && horizon.kind !== "flat";
  return {
    latitude: latitude ?? place.latitude,
    longitude: longitude ?? place.longitude,
    horizon: subject.horizon ?? horizon,
    ...(facing === undefined ? {} : { facing }),
    assumptions: isBorrowed ? [...assumptions, borrowed] : assumptions,
  };
}

/** A surface looks one way where its facing or its slope is given; a facing without a slope is an upright wall. */
function facingOf({ facingAzimuthDeg, slopeDeg }: Subject): {
  readonly facing?: Facing;
  readonly assumptions: readonly Assumption[];
} {
  if (facingAzimuthDeg !== undefined) requireInRange("subject.facingAzimuthDeg", facingAzimuthDeg, 0, 360, "deg");
  if (slopeDeg !== undefined) requireInRange("subject.slopeDeg", slopeDeg, 0, 180, "deg");
  if (facingAzimuthDeg !== undefined) {
    if (slopeDeg !== undefined) return { facing: { facingAzimuthDeg, slopeDeg }, assumptions: [] };
    const wall = { field: "subject.slopeDeg", value: 90, why: "a facing without a slope is taken for an upright face" };
    return { facing: { facingAzimuthDeg, slopeDeg: 90 }, assumptions: [wall] };
  }
  if (slopeDeg === undefined) return { assumptions: [] };
  // level both ways up: it faces nowhere in particular
  if (slopeDeg === 0 || slopeDeg === 180) return { facing: { facingAzimuthDeg: 0, slopeDeg }, assumptions: [] };
  throw new DomainError({
    param: "subject.facingAzimuthDeg",
    given: undefined,
    allowed: "0 to 360 where the subject slopes",
    unit: "deg",
  });
}
