/** A square grid of heights [m], row by row from the south. */
export interface HeightGrid {
  readonly columns: number;
  readonly rows: number;
  readonly spacingM: number;
  readonly heights: Float64Array;
}

interface Drainage {
  /** Every cell, outlets first: a cell comes after the one it drains to. */
  readonly order: Int32Array;
  /** The cell each cell drains to; an outlet drains to itself. */
  readonly receiver: Int32Array;
}

const NEIGHBOURS: readonly (readonly [dx: number, dy: number, steps: number])[] = [
  [-1, -1, Math.SQRT2],
  [0, -1, 1],
  [1, -1, Math.SQRT2],
  [-1, 0, 1],
  [1, 0, 1],
  [-1, 1, Math.SQRT2],
  [0, 1, 1],
  [1, 1, Math.SQRT2],
];

export interface Weather {
  readonly rounds: number;
  /** How deep water cuts in a round. */
  readonly cutting: number;
  /** Water from less than this length squared [m] runs off without a channel. */
  readonly channelHeadM: number;
  /** Share of the way that each height moves toward its neighbours' mean in a round, 0 to 1. */
  readonly creep: number;
}

/**
 * Lets running water cut valleys and lets slopes creep; cells marked as outlets keep their height.
 * The cut deepens with the slope and with the square root of the area drained.
 * Braun and Willett 2013, Geomorphology 180-181:170: the stream power law (m = 0.5, n = 1) solved implicitly from the outlets up.
 */
export function erode(grid: HeightGrid, isOutlet: Uint8Array, weather: Weather): void {
  const { heights, spacingM } = grid;
  const area = new Float64Array(heights.length);
  for (let round = 0; round < weather.rounds; round++) {
    const { order, receiver } = findDrainage(grid, isOutlet);
    area.fill(spacingM * spacingM);
    for (let i = order.length - 1; i >= 0; i--) {
      const cell = order[i] as number;
      const below = receiver[cell] as number;
      if (below !== cell) area[below] = (area[below] as number) + (area[cell] as number);
    }
    for (const cell of order) {
      const below = receiver[cell] as number;
      if (below === cell) continue;
      const straight = Math.abs(below - cell) === 1 || Math.abs(below - cell) === grid.columns;
      const flow = Math.max(0, Math.sqrt(area[cell] as number) - weather.channelHeadM);
      const power = (weather.cutting * flow) / (spacingM * (straight ? 1 : Math.SQRT2));
      const lower = heights[below] as number;
      const own = heights[cell] as number;
      if (own > lower) heights[cell] = (own + power * lower) / (1 + power);
    }
    creepDown(grid, isOutlet, weather.creep);
  }
}

/**
 * The way water leaves each cell: down the steepest side, and out of a hollow over its lowest lip.
 * Barnes, Lehman and Mulla 2014, Computers and Geosciences 62:117: flooding inward from the outlets, lowest cell first.
 */
function findDrainage({ columns, rows, heights }: HeightGrid, isOutlet: Uint8Array): Drainage {
  const size = heights.length;
  const filled = new Float64Array(size);
  const receiver = new Int32Array(size).fill(-1);
  const order = new Int32Array(size);
  const queue = new CellQueue(filled);
  for (let cell = 0; cell < size; cell++) {
    if (!isOutlet[cell]) continue;
    filled[cell] = heights[cell] as number;
    receiver[cell] = cell;
    queue.push(cell);
  }
  for (let count = 0; count < size; count++) {
    const cell = queue.pop();
    order[count] = cell;
    const column = cell % columns;
    const row = (cell - column) / columns;
    let steepest = 0;
    for (const [dx, dy, steps] of NEIGHBOURS) {
      if (column + dx < 0 || column + dx >= columns || row + dy < 0 || row + dy >= rows) continue;
      const next = cell + dy * columns + dx;
      if (receiver[next] === -1) {
        // a hair up from the lip, so that a filled hollow still has a way out
        filled[next] = Math.max(heights[next] as number, (filled[cell] as number) + 1e-4);
        receiver[next] = cell;
        queue.push(next);
      } else if (!isOutlet[cell]) {
        const fall = ((filled[cell] as number) - (filled[next] as number)) / steps;
        if (fall > steepest) {
          steepest = fall;
          receiver[cell] = next;
        }
      }
    }
  }
  return { order, receiver };
}

/** Each height moves toward the mean of its four neighbours by the share `creep`. */
function creepDown({ columns, rows, heights }: HeightGrid, isOutlet: Uint8Array, creep: number): void {
  const before = heights.slice();
  for (let row = 1; row < rows - 1; row++) {
    for (let column = 1; column < columns - 1; column++) {
      const cell = row * columns + column;
      if (isOutlet[cell]) continue;
      const mean =
        ((before[cell - 1] as number) +
          (before[cell + 1] as number) +
          (before[cell - columns] as number) +
          (before[cell + columns] as number)) /
        4;
      heights[cell] = (before[cell] as number) + creep * (mean - (before[cell] as number));
    }
  }
}

/** A binary heap of cells, lowest first; of equal heights the lower index, so that the order never varies. */
class CellQueue {
  readonly #cells: number[] = [];
  readonly #heights: Float64Array;

  constructor(heights: Float64Array) {
    this.#heights = heights;
  }

  push(cell: number): void {
    const cells = this.#cells;
    let at = cells.length;
    cells.push(cell);
    while (at > 0) {
      const parent = (at - 1) >> 1;
      if (!this.#isBefore(cell, cells[parent] as number)) break;
      cells[at] = cells[parent] as number;
      at = parent;
    }
    cells[at] = cell;
  }

  pop(): number {
    const cells = this.#cells;
    const top = cells[0] as number;
    const last = cells.pop() as number;
    if (cells.length === 0) return top;
    let at = 0;
    for (;;) {
      let child = 2 * at + 1;
      if (child >= cells.length) break;
      if (child + 1 < cells.length && this.#isBefore(cells[child + 1] as number, cells[child] as number)) child++;
      if (!this.#isBefore(cells[child] as number, last)) break;
      cells[at] = cells[child] as number;
      at = child;
    }
    cells[at] = last;
    return top;
  }

  #isBefore(a: number, b: number): boolean {
    const ha = this.#heights[a] as number;
    const hb = this.#heights[b] as number;
    return ha < hb || (ha === hb && a < b);
  }
}
