import { scanHorizon } from "@fieldstop/core/horizon";
import { bruteForce } from "../core/horizon/brute-force";
import { degreesOfSlope, EFFECTIVE_RADIUS_M, gridOf, hills, slopeTo, WGS84 } from "../core/horizon/grids";
import { summarise } from "./errors";
import type { Measure, Measurement } from "./measure";

/** Errors [deg] of surfaces whose skyline is known in closed form: the sea from four heights, and cones seen from all sides. */
function knownSurfaces(): Measurement {
  const sea = gridOf({ south: 43, west: -4, rows: 241, columns: 481, perDegree: 60 }, () => 0);
  const dips = [2, 10, 100, 1000].flatMap((eyeHeightM) => {
    const { altitudesDeg } = scanHorizon([sea], { latitude: 45.003, longitude: 0.007, eyeHeightM }, { stepDeg: 30 });
    const dip = degreesOfSlope(-2 * Math.sqrt(eyeHeightM / (2 * EFFECTIVE_RADIUS_M)));
    return altitudesDeg.map((altitude) => altitude - dip);
  });
  const perDegree = 1200;
  const top = { row: 300, column: 450 };
  const island = gridOf({ south: 38, west: -28, rows: 601, columns: 901, perDegree }, (_lat, _lon, row, column) =>
    Math.max(0, 500 - 9 * Math.hypot(row - top.row, column - top.column)),
  );
  const summit = { latitude: island.northDeg - top.row / perDegree, longitude: -28 + top.column / perDegree };
  const cones = Array.from({ length: 24 }, (_, i) => {
    const from = WGS84.Direct(summit.latitude, summit.longitude, i * 15 + 3, 9000);
    const viewpoint = { latitude: from.lat2 as number, longitude: from.lon2 as number, eyeHeightM: 1.6 };
    const line = WGS84.Inverse(viewpoint.latitude, viewpoint.longitude, summit.latitude, summit.longitude);
    const scan = scanHorizon([island], viewpoint, {
      azimuthsDeg: [((line.azi1 as number) + 360) % 360],
      radiusM: 20_000,
    });
    return (scan.altitudesDeg[0] as number) - degreesOfSlope(slopeTo(500, 1.6, line.s12 as number));
  });
  return summarise([...dips, ...cones]);
}

/** Errors [deg] over rough hills against exact geodesics, every patch and its analytic maximum. */
function roughHills(): Measurement {
  const grid = gridOf({ south: 56, west: -10, rows: 1201, columns: 1201, perDegree: 1200 }, hills);
  const places = [
    { latitude: 56.431, longitude: -9.517 },
    { latitude: 56.602, longitude: -9.403 },
  ];
  return summarise(
    places.flatMap(({ latitude, longitude }) => {
      const azimuthsDeg = Array.from({ length: 24 }, (_, i) => i * 15 + 0.7);
      const scan = scanHorizon([grid], { latitude, longitude, eyeHeightM: 2 }, { azimuthsDeg, radiusM: 20_000 });
      return azimuthsDeg.map((azimuth, i) => {
        const brute = bruteForce([grid], latitude, longitude, scan.eyeElevationM, azimuth, 20_000);
        const error = (scan.altitudesDeg[i] as number) - brute.altitudeDeg;
        // past the data there is the sea, which brute force does not know: there the scan may only be higher
        const bySea = (scan.distancesM[i] as number) > (scan.reachesM[i] as number) - 1;
        return bySea ? Math.min(0, error) : error;
      });
    }),
  );
}

export const horizonMeasures: readonly Measure[] = [
  {
    id: "horizon-known",
    subject: "scanned skyline, sea from 2 to 1000 m and cones from all sides",
    against: "closed forms and ellipsoidal distances",
    unit: "deg",
    measure: knownSurfaces,
  },
  {
    id: "horizon-hills",
    subject: "scanned skyline, rough hills in 3″ steps",
    against: "brute force on exact geodesics",
    unit: "deg",
    measure: roughHills,
  },
];
