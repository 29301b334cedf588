import { requirePositive } from "../domain-error";

/** How finely a dial is divided: whole stops, halves or thirds. */
export type SeriesStep = "full" | "half" | "third";

/** One mark of a dial: what it says, and what it stands for. */
export interface NominalMark extends Face {
  /** What the mark stands for: f-number, seconds or ISO. */
  readonly exact: number;
}

/** What a mark says. */
export interface Face {
  /** As a number: 11, 0.008, 400. */
  readonly value: number;
  /** As people write it: `f/11`, `1/125 s`, `ISO 400`. */
  readonly text: string;
}

/** The marks of a setting, and how its exact values go on by stops. */
export interface Dial {
  /** What the setting is called where it is refused, and its unit. */
  readonly param: string;
  readonly unit?: string;
  /** The exact value at stop 0: f/1, 1 s, ISO 100. */
  readonly zero: number;
  /** Stops in which the exact value doubles. */
  readonly doubling: number;
  /** The stop of its first mark. */
  readonly firstStop: number;
  readonly marks: Readonly<Record<SeriesStep, readonly NominalMark[]>>;
  /** What a mark past either end would say. */
  readonly roughFace: (exact: number) => Face;
}

const STEPS_PER_STOP = { full: 1, half: 2, third: 3 } as const;

/**
 * A dial of the faces that are listed, each with what it stands for.
 * @param whole how whole stops read, where they differ from the same mark among halves
 */
export function dial(
  plan: Omit<Dial, "marks">,
  thirds: readonly Face[],
  halves: readonly Face[],
  whole: (face: Face) => Face = (face) => face,
): Dial {
  const marked = (faces: readonly Face[], perStop: number): readonly NominalMark[] =>
    Object.freeze(
      faces.map((face, i) => Object.freeze({ exact: exactAt(plan, plan.firstStop + i / perStop), ...face })),
    );
  const fulls = halves.filter((_, i) => i % 2 === 0).map(whole);
  return { marks: { full: marked(fulls, 1), half: marked(halves, 2), third: marked(thirds, 3) }, ...plan };
}

/** Exact values of the series: N = √2^n, t = 2^n s, S = 100·2^n (APEX, ASA PH2.5-1960). */
function exactAt({ zero, doubling }: Pick<Dial, "zero" | "doubling">, stops: number): number {
  return zero * 2 ** (stops / doubling);
}

// Values midway between two marks are common, and engines differ in the last bit of a logarithm: the larger mark counts as nearer
const TIE = 1e-9;

/** The mark nearest to an exact value; past either end of the dial a mark of two digits is made by the same rule. */
export function nearestMark(of: Dial, exact: number, step: SeriesStep = "third"): NominalMark {
  requirePositive(of.param, exact, of.unit);
  const perStop = STEPS_PER_STOP[step];
  const steps = Math.round(of.doubling * Math.log2(exact / of.zero) * perStop + TIE);
  const mark = of.marks[step][steps - of.firstStop * perStop];
  if (mark !== undefined) return mark;
  const made = exactAt(of, steps / perStop);
  return { exact: made, ...of.roughFace(made) };
}

/** The mark that a number names, give or take a share of it: in the series asked for, or else among thirds (which hold the whole stops), then halves. */
export function markNamed(
  { marks }: Dial,
  value: number,
  step: SeriesStep | undefined,
  slack: number,
): NominalMark | undefined {
  if (step !== undefined) return markWithValue(marks[step], value, slack);
  return markWithValue(marks.third, value, slack) ?? markWithValue(marks.half, value, slack);
}

function markWithValue(series: readonly NominalMark[], value: number, slack: number): NominalMark | undefined {
  // marks ascend, so the search can halve
  let low = 0;
  let high = series.length - 1;
  while (low <= high) {
    const middle = (low + high) >>> 1;
    const mark = series[middle] as NominalMark;
    if (Math.abs(mark.value - value) <= slack * value) return mark;
    if (mark.value < value) low = middle + 1;
    else high = middle - 1;
  }
  return undefined;
}
