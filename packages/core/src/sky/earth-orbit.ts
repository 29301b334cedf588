import { PAIR, sincos } from "./sincos";

/** The two halves of A·cos(B + θ) = a·cos θ − b·sin θ, from the tabulated amplitude [1e-8] and phase [rad]. */
function term(amplitude: number, phase: number): readonly [number, number] {
  return [amplitude * 1e-8 * Math.cos(phase), amplitude * 1e-8 * Math.sin(phase)];
}

/** Where {@link earthOrbit} leaves its answer: cosine and sine of the sun's geometric longitude, and the distance [au]. */
export const ORBIT = new Float64Array(3);

/**
 * The sun's geometric longitude on the ecliptic of date and its distance, into {@link ORBIT}.
 * The series is summed by multiplying unit phasors: five angles are turned into cosine and sine, and every argument of the table is a
 * product of those, so that a term costs a few multiplications in place of a cosine.
 * @param t Julian millennia of Terrestrial Time since J2000, −0.101 to 0.102
 * Accuracy: 0.0002° rms in longitude against an independent ephemeris, 0.0001 au; held by tests/core/sky/earth-orbit.spec.ts.
 */
export const earthOrbit: (t: number) => void = /* @__PURE__ */ (() => {
  // The constants live in a function: bundlers turn those of a module into variables, which are then read anew for every term.

  // Bretagnon & Francou 1988 (VSOP87), heliocentric spherical coordinates of the earth, equinox of date, in units of 1e-8 rad and Julian
  // millennia, as tabulated by Reda & Andreas 2008, NREL/TP-560-34302, table A4.2: amplitude and phase of the larger terms of L0, and what of
  // L1 and L2 reaches 40 units within a century of J2000. The frequencies of that table are those of the mean longitudes of
  // Earth, Venus, Mars and Jupiter, of the moon's elongation, and their differences.
  const EARTH_FREQUENCY = 6283.07585;
  const VENUS_FREQUENCY = 10213.285546;
  const MARS_FREQUENCY = 3340.612427;
  const JUPITER_FREQUENCY = 529.690965;
  const ELONGATION_FREQUENCY = 77713.7715;
  const SLOW_FREQUENCY = 3.5231;

  const [aE, bE] = term(3341656, 4.6692568);
  const [a2E, b2E] = term(34894, 4.6261);
  const [aEJ, bEJ] = term(3497, 2.7441);
  const [aSlow, bSlow] = term(3418, 2.8289);
  const [aD, bD] = term(3136, 3.6277);
  const [a2V2E, b2V2E] = term(2676, 4.4181);
  const [aVE, bVE] = term(2343, 6.1352);
  const [a2E2J, b2E2J] = term(1324, 0.7425);
  const [aJ, bJ] = term(1273, 2.0371);
  const [a2V3E, b2V3E] = term(1199, 1.1096);
  const [a2E2M, b2E2M] = term(990, 5.233);
  const [a8V13E, b8V13E] = term(902, 2.045);
  const [a2ME, b2ME] = term(857, 3.508);
  const [aE2J, bE2J] = term(780, 1.179);
  const [a3V4E, b3V4E] = term(753, 2.533);
  const [a3E, b3E] = term(505, 4.583);
  const [a5E3V, b5E3V] = term(492, 4.205);
  const [a3V3E, b3V3E] = term(317, 5.849);
  const [a4M2E, b4M2E] = term(284, 1.899);
  const [a2E3J, b2E3J] = term(271, 0.315);
  const [a3E4M, b3E4M] = term(243, 0.345);
  const [a2E3M, b2E3M] = term(206, 4.806);
  const [aEM, bEM] = term(132, 3.411);
  const [a4V6E, b4V6E] = term(74, 3.5);

  // The same table: constants of L0 to L2. The terms of L0 with the frequencies 0.067, 0.98 and 7.114, whose periods are centuries, are a
  // constant and a slope here.
  const [aAeon, bAeon] = term(357, 2.92);
  const [aAge, bAge] = term(115, 0.645);
  const [aEra, bEra] = term(102, 4.267);
  const MEAN_LONGITUDE = 1.75347046 + aAeon + aAge + aEra;
  const MEAN_MOTION = 6283.31966747 - 0.067 * bAeon - 0.98 * bAge - 7.114 * bEra;
  const MEAN_ACCELERATION = 0.00052919;
  const [aE1, bE1] = term(206059, 2.678235);
  const [a2E1, b2E1] = term(4303, 2.6351);
  const [aSlow1, bSlow1] = term(425, 1.59);
  const [aE2, bE2] = term(8720, 1.0721);

  // The same table, R0 and R1: what leaves less than 0.0001 au
  const MEAN_RADIUS = 1.00013989;
  const [aRadiusE, bRadiusE] = term(1670700, 3.0984635);
  const [aRadius2E, bRadius2E] = term(13956, 3.05525);
  const [aRadiusE1, bRadiusE1] = term(103019, 1.10749);

  // the sun stands opposite to the earth
  const COS_SUN_EPOCH = Math.cos(MEAN_LONGITUDE + Math.PI);
  const SIN_SUN_EPOCH = Math.sin(MEAN_LONGITUDE + Math.PI);

  return function earthOrbit(t: number): void {
    sincos(t * EARTH_FREQUENCY);
    const cE = PAIR[0] as number;
    const sE = PAIR[1] as number;
    sincos(t * VENUS_FREQUENCY);
    const cV = PAIR[0] as number;
    const sV = PAIR[1] as number;
    sincos(t * MARS_FREQUENCY);
    const cM = PAIR[0] as number;
    const sM = PAIR[1] as number;
    sincos(t * JUPITER_FREQUENCY);
    const cJ = PAIR[0] as number;
    const sJ = PAIR[1] as number;
    sincos(t * ELONGATION_FREQUENCY);
    const cD = PAIR[0] as number;
    const sD = PAIR[1] as number;
    // at most a third of a radian: two terms of the series of cosine and sine will do
    const slow = t * SLOW_FREQUENCY;
    const slow2 = slow * slow;
    const cSlow = 1 - slow2 * (1 / 2 - slow2 * (1 / 24));
    const sSlow = slow * (1 - slow2 * (1 / 6));

    const c2E = cE * cE - sE * sE;
    const s2E = 2 * sE * cE;
    const c3E = c2E * cE - s2E * sE;
    const s3E = s2E * cE + c2E * sE;

    const cEJ = cE * cJ + sE * sJ;
    const sEJ = sE * cJ - cE * sJ;
    const cE2J = cEJ * cJ + sEJ * sJ;
    const sE2J = sEJ * cJ - cEJ * sJ;
    const c2E2J = cEJ * cEJ - sEJ * sEJ;
    const s2E2J = 2 * sEJ * cEJ;
    const c2E3J = c2E2J * cJ + s2E2J * sJ;
    const s2E3J = s2E2J * cJ - c2E2J * sJ;

    const cVE = cV * cE + sV * sE;
    const sVE = sV * cE - cV * sE;
    const c2V2E = cVE * cVE - sVE * sVE;
    const s2V2E = 2 * sVE * cVE;
    const c3V3E = c2V2E * cVE - s2V2E * sVE;
    const s3V3E = s2V2E * cVE + c2V2E * sVE;
    const c2V3E = c2V2E * cE + s2V2E * sE;
    const s2V3E = s2V2E * cE - c2V2E * sE;
    const c3V4E = c2V3E * cVE - s2V3E * sVE;
    const s3V4E = s2V3E * cVE + c2V3E * sVE;
    const c5E3V = cE * c3V4E + sE * s3V4E;
    const s5E3V = sE * c3V4E - cE * s3V4E;
    const c4V6E = c2V3E * c2V3E - s2V3E * s2V3E;
    const s4V6E = 2 * s2V3E * c2V3E;
    const c8V12E = c4V6E * c4V6E - s4V6E * s4V6E;
    const s8V12E = 2 * s4V6E * c4V6E;
    const c8V13E = c8V12E * cE + s8V12E * sE;
    const s8V13E = s8V12E * cE - c8V12E * sE;

    const cEM = cE * cM + sE * sM;
    const sEM = sE * cM - cE * sM;
    const c2E2M = cEM * cEM - sEM * sEM;
    const s2E2M = 2 * sEM * cEM;
    const c2ME = cM * cEM + sM * sEM;
    const s2ME = sM * cEM - cM * sEM;
    const c4M2E = c2ME * c2ME - s2ME * s2ME;
    const s4M2E = 2 * s2ME * c2ME;
    const c3E4M = cE * c4M2E + sE * s4M2E;
    const s3E4M = sE * c4M2E - cE * s4M2E;
    const c2E3M = cEM * c2ME + sEM * s2ME;
    const s2E3M = sEM * c2ME - cEM * s2ME;

    const periodic =
      aE * cE -
      bE * sE +
      (a2E * c2E - b2E * s2E) +
      (aEJ * cEJ - bEJ * sEJ) +
      (aSlow * cSlow - bSlow * sSlow) +
      (aD * cD - bD * sD) +
      (a2V2E * c2V2E - b2V2E * s2V2E) +
      (aVE * cVE - bVE * sVE) +
      (a2E2J * c2E2J - b2E2J * s2E2J) +
      (aJ * cJ - bJ * sJ) +
      (a2V3E * c2V3E - b2V3E * s2V3E) +
      (a2E2M * c2E2M - b2E2M * s2E2M) +
      (a8V13E * c8V13E - b8V13E * s8V13E) +
      (a2ME * c2ME - b2ME * s2ME) +
      (aE2J * cE2J - bE2J * sE2J) +
      (a3V4E * c3V4E - b3V4E * s3V4E) +
      (a3E * c3E - b3E * s3E) +
      (a5E3V * c5E3V - b5E3V * s5E3V) +
      (a3V3E * c3V3E - b3V3E * s3V3E) +
      (a4M2E * c4M2E - b4M2E * s4M2E) +
      (a2E3J * c2E3J - b2E3J * s2E3J) +
      (a3E4M * c3E4M - b3E4M * s3E4M) +
      (a2E3M * c2E3M - b2E3M * s2E3M) +
      (aEM * cEM - bEM * sEM) +
      (a4V6E * c4V6E - b4V6E * s4V6E);
    const growing =
      aE1 * cE - bE1 * sE + (a2E1 * c2E - b2E1 * s2E) + (aSlow1 * cSlow - bSlow1 * sSlow) + t * (aE2 * cE - bE2 * sE);

    // the longitude is the phasor E turned by the longitude at the epoch and by a small angle, so that no further cosine is due
    const beyond = periodic + t * (MEAN_MOTION - EARTH_FREQUENCY + t * MEAN_ACCELERATION + growing);
    const beyond2 = beyond * beyond;
    const cBeyond = 1 - beyond2 * (1 / 2 - beyond2 * (1 / 24 - beyond2 * (1 / 720)));
    const sBeyond = beyond * (1 - beyond2 * (1 / 6 - beyond2 * (1 / 120)));
    const cMean = cE * COS_SUN_EPOCH - sE * SIN_SUN_EPOCH;
    const sMean = sE * COS_SUN_EPOCH + cE * SIN_SUN_EPOCH;
    ORBIT[0] = cMean * cBeyond - sMean * sBeyond;
    ORBIT[1] = sMean * cBeyond + cMean * sBeyond;
    ORBIT[2] =
      MEAN_RADIUS +
      (aRadiusE * cE - bRadiusE * sE) +
      (aRadius2E * c2E - bRadius2E * s2E) +
      t * (aRadiusE1 * cE - bRadiusE1 * sE);
  };
})();
