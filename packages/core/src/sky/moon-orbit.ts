import { RADIANS_PER_DEGREE } from "../angles";
import { PAIR, sincos } from "./sincos";

// Meeus 1998, Astronomical Algorithms, table 47.A, from the lunar theory ELP-2000/82 (Chapront-Touzé & Chapront 1983): multiples of the
// moon's elongation D, the sun's anomaly M, the moon's anomaly M' and its argument of latitude F; then the terms in longitude [1e-6 deg], sine,
// and in distance [m], cosine.
const LONGITUDE_AND_DISTANCE: readonly (readonly number[])[] = [
  [0, 0, 1, 0, 6288774, -20905355],
  [2, 0, -1, 0, 1274027, -3699111],
  [2, 0, 0, 0, 658314, -2955968],
  [0, 0, 2, 0, 213618, -569925],
  [0, 1, 0, 0, -185116, 48888],
  [0, 0, 0, 2, -114332, -3149],
  [2, 0, -2, 0, 58793, 246158],
  [2, -1, -1, 0, 57066, -152138],
  [2, 0, 1, 0, 53322, -170733],
  [2, -1, 0, 0, 45758, -204586],
  [0, 1, -1, 0, -40923, -129620],
  [1, 0, 0, 0, -34720, 108743],
  [0, 1, 1, 0, -30383, 104755],
  [2, 0, 0, -2, 15327, 10321],
  [0, 0, 1, 2, -12528, 0],
  [0, 0, 1, -2, 10980, 79661],
  [4, 0, -1, 0, 10675, -34782],
  [0, 0, 3, 0, 10034, -23210],
  [4, 0, -2, 0, 8548, -21636],
  [2, 1, -1, 0, -7888, 24208],
  [2, 1, 0, 0, -6766, 30824],
  [1, 0, -1, 0, -5163, -8379],
  [1, 1, 0, 0, 4987, -16675],
  [2, -1, 1, 0, 4036, -12831],
  [2, 0, 2, 0, 3994, -10445],
  [4, 0, 0, 0, 3861, -11650],
  [2, 0, -3, 0, 3665, 14403],
  [0, 1, -2, 0, -2689, -7003],
  [2, 0, -1, 2, -2602, 0],
  [2, -1, -2, 0, 2390, 10056],
  [1, 0, 1, 0, -2348, 6322],
  [2, -2, 0, 0, 2236, -9884],
  [0, 1, 2, 0, -2120, 5751],
  [0, 2, 0, 0, -2069, 0],
  [2, -2, -1, 0, 2048, -4950],
  [2, 0, 1, -2, -1773, 4130],
  [2, 0, 0, 2, -1595, 0],
  [4, -1, -1, 0, 1215, -3958],
  [0, 0, 2, 2, -1110, 0],
  [3, 0, -1, 0, -892, 3258],
  [2, 1, 1, 0, -810, 2616],
  [4, -1, -2, 0, 759, -1897],
  [0, 2, -1, 0, -713, -2117],
  [2, 2, -1, 0, -700, 2354],
  [2, 1, -2, 0, 691, 0],
  [2, -1, 0, -2, 596, 0],
  [4, 0, 1, 0, 549, -1423],
  [0, 0, 4, 0, 537, -1117],
  [4, -1, 0, 0, 520, -1571],
  [1, 0, -2, 0, -487, -1739],
  [2, 1, 0, -2, -399, 0],
  [0, 0, 2, -2, -381, -4421],
  [1, 1, 1, 0, 351, 0],
  [3, 0, -2, 0, -340, 0],
  [4, 0, -3, 0, 330, 0],
  [2, -1, 2, 0, 327, 0],
  [0, 2, 1, 0, -323, 1165],
  [1, 1, -1, 0, 299, 0],
  [2, 0, 3, 0, 294, 0],
  [2, 0, -1, -2, 0, 8752],
];

// Meeus 1998, table 47.B: the same multiples, and the terms in latitude [1e-6 deg], sine
const LATITUDE: readonly (readonly number[])[] = [
  [0, 0, 0, 1, 5128122],
  [0, 0, 1, 1, 280602],
  [0, 0, 1, -1, 277693],
  [2, 0, 0, -1, 173237],
  [2, 0, -1, 1, 55413],
  [2, 0, -1, -1, 46271],
  [2, 0, 0, 1, 32573],
  [0, 0, 2, 1, 17198],
  [2, 0, 1, -1, 9266],
  [0, 0, 2, -1, 8822],
  [2, -1, 0, -1, 8216],
  [2, 0, -2, -1, 4324],
  [2, 0, 1, 1, 4200],
  [2, 1, 0, -1, -3359],
  [2, -1, -1, 1, 2463],
  [2, -1, 0, 1, 2211],
  [2, -1, -1, -1, 2065],
  [0, 1, -1, -1, -1870],
  [4, 0, -1, -1, 1828],
  [0, 1, 0, 1, -1794],
  [0, 0, 0, 3, -1749],
  [0, 1, -1, 1, -1565],
  [1, 0, 0, 1, -1491],
  [0, 1, 1, 1, -1475],
  [0, 1, 1, -1, -1410],
  [0, 1, 0, -1, -1344],
  [1, 0, 0, -1, -1335],
  [0, 0, 3, 1, 1107],
  [4, 0, 0, -1, 1021],
  [4, 0, -1, 1, 833],
  [0, 0, 1, -3, 777],
  [4, 0, -2, 1, 671],
  [2, 0, 0, -3, 607],
  [2, 0, 2, -1, 596],
  [2, -1, 1, -1, 491],
  [2, 0, -2, 1, -451],
  [0, 0, 3, -1, 439],
  [2, 0, 2, 1, 422],
  [2, 0, -3, -1, 421],
  [2, 1, -1, 1, -366],
  [2, 1, 0, 1, -351],
  [4, 0, 0, 1, 331],
  [2, -1, 1, 1, 315],
  [2, -2, 0, -1, 302],
  [0, 0, 1, 3, -283],
  [2, 1, 1, -1, -229],
  [1, 1, 0, -1, 223],
  [1, 1, 0, 1, 223],
  [0, 1, -2, -1, -220],
  [2, 1, -1, -1, -220],
  [1, 0, 1, 1, -185],
  [2, -1, -2, -1, 181],
  [0, 1, 2, 1, -177],
  [4, 0, -2, -1, 176],
  [4, -1, -1, -1, 166],
  [1, 0, 1, -1, -164],
  [4, 0, 1, -1, 132],
  [1, 0, -1, -1, -119],
  [4, -1, 0, -1, 115],
  [2, -2, 0, 1, 107],
];

const LONGITUDE_ROWS = Float64Array.from(LONGITUDE_AND_DISTANCE.flat());
const LATITUDE_ROWS = Float64Array.from(LATITUDE.flat());

/** Where {@link moonOrbit} leaves its answer: longitude and latitude on the ecliptic of date [rad], distance [km]. */
export const MOON_ORBIT = new Float64Array(3);

/**
 * The moon's geocentric place, counted from the mean equinox of date, into {@link MOON_ORBIT}.
 * @param t Julian centuries of Terrestrial Time since J2000.0
 * Source: Meeus 1998, ch. 47, with its additive terms for Venus, Jupiter and the flattening of the earth.
 * Accuracy: 10″ in longitude, 4″ in latitude by its author; held by the golden rows `meeus.47a`.
 */
export function moonOrbit(t: number): void {
  // Meeus 1998, 47.1 to 47.6
  const meanLongitude = 218.3164477 + t * (481267.88123421 + t * (-0.0015786 + t * (1 / 538841 - t / 65194000)));
  const d =
    RADIANS_PER_DEGREE * (297.8501921 + t * (445267.1114034 + t * (-0.0018819 + t * (1 / 545868 - t / 113065000))));
  const m = RADIANS_PER_DEGREE * (357.5291092 + t * (35999.0502909 + t * (-0.0001536 + t / 24490000)));
  const mp =
    RADIANS_PER_DEGREE * (134.9633964 + t * (477198.8675055 + t * (0.0087414 + t * (1 / 69699 - t / 14712000))));
  const f =
    RADIANS_PER_DEGREE * (93.272095 + t * (483202.0175233 + t * (-0.0036539 + t * (-1 / 3526000 + t / 863310000))));
  const eccentricity = 1 - t * (0.002516 + t * 0.0000074);

  let longitude = 0;
  let distance = 0;
  for (let i = 0; i < LONGITUDE_ROWS.length; i += 6) {
    const multipleOfM = LONGITUDE_ROWS[i + 1] as number;
    sincos(
      (LONGITUDE_ROWS[i] as number) * d +
        multipleOfM * m +
        (LONGITUDE_ROWS[i + 2] as number) * mp +
        (LONGITUDE_ROWS[i + 3] as number) * f,
    );
    const scale = eccentricityFactor(multipleOfM, eccentricity);
    longitude += scale * (LONGITUDE_ROWS[i + 4] as number) * (PAIR[1] as number);
    distance += scale * (LONGITUDE_ROWS[i + 5] as number) * (PAIR[0] as number);
  }
  let latitude = 0;
  for (let i = 0; i < LATITUDE_ROWS.length; i += 5) {
    const multipleOfM = LATITUDE_ROWS[i + 1] as number;
    sincos(
      (LATITUDE_ROWS[i] as number) * d +
        multipleOfM * m +
        (LATITUDE_ROWS[i + 2] as number) * mp +
        (LATITUDE_ROWS[i + 3] as number) * f,
    );
    latitude += eccentricityFactor(multipleOfM, eccentricity) * (LATITUDE_ROWS[i + 4] as number) * (PAIR[1] as number);
  }

  // Meeus 1998, p. 338 and 342
  const a1 = RADIANS_PER_DEGREE * (119.75 + 131.849 * t);
  const a2 = RADIANS_PER_DEGREE * (53.09 + 479264.29 * t);
  const a3 = RADIANS_PER_DEGREE * (313.45 + 481266.484 * t);
  const l = RADIANS_PER_DEGREE * meanLongitude;
  longitude += 3958 * Math.sin(a1) + 1962 * Math.sin(l - f) + 318 * Math.sin(a2);
  latitude +=
    -2235 * Math.sin(l) +
    382 * Math.sin(a3) +
    175 * (Math.sin(a1 - f) + Math.sin(a1 + f)) +
    127 * Math.sin(l - mp) -
    115 * Math.sin(l + mp);

  MOON_ORBIT[0] = RADIANS_PER_DEGREE * (meanLongitude + longitude * 1e-6);
  MOON_ORBIT[1] = RADIANS_PER_DEGREE * latitude * 1e-6;
  MOON_ORBIT[2] = 385000.56 + distance * 1e-3;
}

/** The sun's anomaly comes with the eccentricity of the earth's orbit, which is shrinking (Meeus 1998, p. 338). */
function eccentricityFactor(multipleOfM: number, eccentricity: number): number {
  return multipleOfM === 0 ? 1 : multipleOfM * multipleOfM === 1 ? eccentricity : eccentricity * eccentricity;
}
