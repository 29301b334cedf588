import type { HorizonProfile } from "@fieldstop/core/horizon";

/** Numbers in [0, 1) that are the same in every run (Park & Miller 1988, Communications of the ACM 31:1192). */
export function seeded(seed: number): () => number {
  let state = seed;
  return () => {
    state = (state * 48271) % 2147483647;
    return state / 2147483647;
  };
}

function evenly(count: number, altitudeAt: (i: number) => number): HorizonProfile {
  const nodes = Array.from({ length: count }, (_, i) => i);
  return { azimuthsDeg: nodes.map((i) => (i * 360) / count), altitudesDeg: nodes.map(altitudeAt) };
}

/** Skylines that are hard in different ways, each made anew from random numbers. */
export const skylines = {
  "a few readings by compass": (random: () => number): HorizonProfile => {
    const azimuths = new Set(Array.from({ length: 2 + Math.floor(random() * 30) }, () => random() * 360));
    const azimuthsDeg = [...azimuths].sort((a, b) => a - b);
    return { azimuthsDeg, altitudesDeg: azimuthsDeg.map(() => random() * 20 - 1) };
  },
  "rough ridges each 0.25°": (random: () => number): HorizonProfile =>
    evenly(1440, (i) => 3 + 3 * Math.sin(i / 30) + random()),
  spikes: (random: () => number): HorizonProfile => evenly(720, () => (random() < 0.1 ? random() * 40 : random() * 2)),
  "a level horizon": (random: () => number): HorizonProfile => {
    const altitude = random() * 2 - 1;
    return evenly(2, () => altitude);
  },
  "notches in a wall": (random: () => number): HorizonProfile =>
    evenly(1440, (i) => 8 - (random() < 0.08 ? 8 : 0) + 4 * Math.sin(i / 50)),
  "a fine profile each 0.1°, mountains and sea": (random: () => number): HorizonProfile => {
    const height = random() * 40;
    return evenly(3600, (i) => Math.max(-0.3, height * Math.sin(i / 300 + height) + random() * 0.3));
  },
};
