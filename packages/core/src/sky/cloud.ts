import { type CloudCover, requireCloudCover } from "./sky-types";

/** What a sky of clouds does to daylight. */
export interface CloudEffect {
  /** Horizontal illuminance under the clouds against that of the clear sky [1], 0 to 1. */
  readonly transmittance: number;
  /** Mean share of the sun's direct beam that comes through [1], 0 to 1. */
  readonly directTransmittance: number;
  /** How far the sky has gone from clear (0) to wholly overcast (1): the share of the beam that is lost. */
  readonly overcastness: number;
}

// Kasten & Czeplak 1980, Solar Energy 24:177: G/G0 = 1 − 0.75·(N/8)^3.4, and the overcast transmittance by genus.
// Stratocumulus and cumulus 0.25, which the law's 0.75 is for; altocumulus and altostratus 0.27; cirrus and
// cirrostratus 0.61.
const OVERCAST_TRANSMITTANCE: CloudCover = Object.freeze({ low: 0.25, middle: 0.27, high: 0.61 });
const COVER_EXPONENT = 3.4;

// Shadows go soft but stay under cirrostratus, so that part of the beam comes through a full cover of it: optical depth
// about 0.7, whose forward peak still counts as beam. Our own choice; low and middle cloud stop the beam where they
// are.
const BEAM_STOPPED: CloudCover = Object.freeze({ low: 1, middle: 1, high: 0.5 });

/**
 * Compute the share of the clear sky's illuminance that comes through one level of cloud that covers `coverPercent` of the sky.
 * @param coverPercent [%], 0 to 100
 * @param overcast transmittance where it covers all [1]; default 0.25, the mean of all cloud
 * Source: Kasten & Czeplak 1980. Held by the golden rows `kc.cloud`.
 * @example coverTransmittance(50) // 0.928951
 */
export function coverTransmittance(coverPercent: number, overcast: number = OVERCAST_TRANSMITTANCE.low): number {
  return 1 - (1 - overcast) * (coverPercent / 100) ** COVER_EXPONENT;
}

/**
 * Compute how much the clouds dim daylight, and how much of the sun's beam they leave.
 *
 * Each level follows the cover law with the overcast transmittance of its clouds. Levels are combined as layers that
 * scatter and do not absorb, with the light thrown back and forth between them: 1/T − 1 adds up. That is the geometric
 * series of Shapiro 1982 (J. Appl. Meteorol. 21:1001) with reflectance 1 − T; a plain product would make three decks
 * four times too dark. The beam is left by each level independently of the others, as a mean over sun and cloud: under
 * broken cloud the ground is at one moment brighter and at the next darker.
 * @param cover low, middle and high cloud [%], 0 to 100 each
 * @throws DomainError outside that range
 * Accuracy: the cover law scatters by 20 % (1/3 stop) about hourly means; single clouds make far more. Held by
 * tests/core/sky/cloud.spec.ts and, for Shapiro's transmittances by genus, by tests/golden/daylight.spec.ts.
 * @example cloudEffect({ low: 100, middle: 0, high: 0 }) // { transmittance: 0.25, directTransmittance: 0,
 * overcastness: 1 }
 */
export function cloudEffect(cover: CloudCover): CloudEffect {
  requireCloudCover(cover);
  let darkening = 0;
  let directTransmittance = 1;
  for (const level of ["low", "middle", "high"] as const) {
    darkening += 1 / coverTransmittance(cover[level], OVERCAST_TRANSMITTANCE[level]) - 1;
    directTransmittance *= 1 - (BEAM_STOPPED[level] * cover[level]) / 100;
  }
  return { transmittance: 1 / (1 + darkening), directTransmittance, overcastness: 1 - directTransmittance };
}
