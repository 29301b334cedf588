/** What a kind of scene usually meters. */
export interface SceneExposure {
  readonly category: string;
  readonly scene: string;
  /** Darkest and brightest usual light [EV100]; equal where the guide prints one value. */
  readonly ev100: readonly [number, number];
}

type Rows = readonly (readonly [scene: string, low: number, high?: number])[];

// ANSI PH2.7-1973 and PH2.7-1986, exposure guides, as collected in Wikipedia "Exposure value", table 2.
// Values in direct sun hold from about two hours after sunrise to two hours before sunset with front light; side light 1, back light 2 EV less.
const BY_CATEGORY: readonly (readonly [category: string, rows: Rows])[] = [
  [
    "Daylight",
    [
      ["Light sand or snow in full or slightly hazy sunlight (distinct shadows)", 16],
      ["Typical scene in full or slightly hazy sunlight (distinct shadows)", 15],
      ["Typical scene in hazy sunlight (soft shadows)", 14],
      ["Typical scene, cloudy bright (no shadows)", 13],
      ["Typical scene, heavy overcast", 12],
      ["Areas in open shade, clear sunlight", 12],
    ],
  ],
  [
    "Rainbows",
    [
      ["Clear sky background", 15],
      ["Cloudy sky background", 14],
    ],
  ],
  [
    "Sunsets and skylines",
    [
      ["Just before sunset", 12, 14],
      ["At sunset", 12],
      ["Just after sunset", 9, 11],
    ],
  ],
  [
    "The Moon, altitude > 40 deg",
    [
      ["Full", 15],
      ["Gibbous", 14],
      ["Quarter", 13],
      ["Crescent", 12],
    ],
  ],
  [
    "Moonlight, Moon altitude > 40 deg",
    [
      ["Full", -3, -2],
      ["Gibbous", -4],
      ["Quarter", -6],
    ],
  ],
  [
    "Aurora",
    [
      ["Bright", -4, -3],
      ["Medium", -6, -5],
    ],
  ],
  [
    "Outdoor, artificial light",
    [
      ["Neon and other bright signs", 9, 10],
      ["Night sports", 9],
      ["Fires and burning buildings", 9],
      ["Bright street scenes", 8],
      ["Night street scenes and window displays", 7, 8],
      ["Night vehicle traffic", 5],
      ["Fairs and amusement parks", 7],
      ["Christmas tree lights", 4, 5],
      ["Floodlit buildings, monuments, and fountains", 3, 5],
      ["Distant views of lighted buildings", 2],
    ],
  ],
  [
    "Indoor, artificial light",
    [
      ["Galleries", 8, 11],
      ["Sports events, stage shows, and the like", 8, 9],
      ["Circuses, floodlit", 8],
      ["Ice shows, floodlit", 9],
      ["Offices and work areas", 7, 8],
      ["Home interiors", 5, 7],
      ["Christmas tree lights", 4, 5],
    ],
  ],
  // Later revision of the same collection; not from the ANSI guides
  [
    "Night sky",
    [
      ["Blood (eclipsed) Moon", 0, 3],
      ["Milky Way galactic centre", -11, -9],
    ],
  ],
];

/** Usual light of 39 kinds of scene at ISO 100 [EV100], by category; see the source above for when it holds. */
export const SCENE_EXPOSURES: readonly SceneExposure[] = Object.freeze(
  BY_CATEGORY.flatMap(([category, rows]) =>
    rows.map(([scene, low, high = low]): SceneExposure => {
      const ev100: SceneExposure["ev100"] = [low, high];
      return Object.freeze({ category, scene, ev100 });
    }),
  ),
);

/** The aperture for a shutter time of one over the ISO, by what the shadows look like. */
export interface SunnyAperture {
  readonly condition: string;
  /** f-number as marked. */
  readonly aperture: number;
}

/** The "sunny 16" rule: at 1/ISO seconds, the marked aperture for each kind of daylight. Common practice; no single source. */
export const SUNNY_16: readonly SunnyAperture[] = Object.freeze([
  { condition: "Snow / sand", aperture: 22 },
  { condition: "Sunny, distinct shadows", aperture: 16 },
  { condition: "Slight overcast, soft shadow edges", aperture: 11 },
  { condition: "Overcast, barely visible shadows", aperture: 8 },
  { condition: "Heavy overcast, no shadows", aperture: 5.6 },
  { condition: "Open shade / sunset", aperture: 4 },
]);
