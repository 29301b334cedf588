// Only sums, products, quotients, square roots and 32-bit integer steps, which every engine rounds alike.

// Sixteen directions round the compass as whole-number vectors, so that no direction is favoured.
const GRADIENTS: readonly (readonly [number, number])[] = [
  [13, 0],
  [12, 5],
  [9, 9],
  [5, 12],
  [0, 13],
  [-5, 12],
  [-9, 9],
  [-12, 5],
  [-13, 0],
  [-12, -5],
  [-9, -9],
  [-5, -12],
  [0, -13],
  [5, -12],
  [9, -9],
  [12, -5],
];

function hash(ix: number, iy: number, seed: number): number {
  let h = Math.imul(ix, 0x27d4eb2d) ^ Math.imul(iy, 0x165667b1) ^ Math.imul(seed, 0x1b873593);
  h = Math.imul(h ^ (h >>> 15), 0x2c1b3c6d);
  h = Math.imul(h ^ (h >>> 12), 0x297a2d39);
  return (h ^ (h >>> 15)) >>> 0;
}

function corner(ix: number, iy: number, dx: number, dy: number, seed: number): number {
  const [gx, gy] = GRADIENTS[hash(ix, iy, seed) & 15] as readonly [number, number];
  return (gx * dx + gy * dy) / 13;
}

// Perlin 2002, Improving noise, ACM Transactions on Graphics 21:681: the quintic that joins cells without a crease.
const fade = (t: number): number => t * t * t * (t * (t * 6 - 15) + 10);

/** Gradient noise of wavelength 1, about -0.7 to 0.7, zero on the lattice. */
function gradientNoise(x: number, y: number, seed: number): number {
  const ix = Math.floor(x);
  const iy = Math.floor(y);
  const dx = x - ix;
  const dy = y - iy;
  const u = fade(dx);
  const v = fade(dy);
  const south = corner(ix, iy, dx, dy, seed) * (1 - u) + corner(ix + 1, iy, dx - 1, dy, seed) * u;
  const north = corner(ix, iy + 1, dx, dy - 1, seed) * (1 - u) + corner(ix + 1, iy + 1, dx - 1, dy - 1, seed) * u;
  return south * (1 - v) + north * v;
}

/**
 * Layers of noise, each of half the wavelength and half the height of the one before: about -1 to 1.
 * `wavelengthKm` is that of the first layer.
 */
export function layeredNoise(
  eastKm: number,
  northKm: number,
  wavelengthKm: number,
  layers: number,
  seed: number,
): number {
  let sum = 0;
  let height = 1;
  let frequency = 1 / wavelengthKm;
  for (let layer = 0; layer < layers; layer++) {
    // each layer is turned by a 3-4-5 triangle, so that the lattices do not line up
    const x = (layer & 1 ? 0.8 * eastKm - 0.6 * northKm : eastKm) * frequency;
    const y = (layer & 1 ? 0.6 * eastKm + 0.8 * northKm : northKm) * frequency;
    sum += height * gradientNoise(x, y, seed + layer);
    height /= 2;
    frequency *= 2;
  }
  return sum;
}
