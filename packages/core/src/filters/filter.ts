import { DomainError, requireInRange } from "../domain-error";
import type { Assumption } from "../notes";
import {
  DENSEST_FILTER_STOPS,
  stopsAsMarked,
  stopsFromDensity,
  stopsFromFactor,
  stopsFromTransmittance,
} from "./attenuation";

/** How strong a filter is, in one of the ways that filters are marked. */
export interface FilterStrength {
  readonly stops?: number;
  readonly density?: number;
  readonly factor?: number;
  readonly transmittancePercent?: number;
}

/** How a graduated filter goes from dark to clear; a reverse one is darkest at the line. */
export type GraduatedTransition = "hard" | "medium" | "soft" | "reverse";

/** Neutral density over the whole frame. */
export interface NeutralDensityFilter extends FilterStrength {
  readonly kind: "nd";
}

/** Neutral density over the sky alone. */
export interface GraduatedFilter extends FilterStrength {
  readonly kind: "graduated";
  readonly transition: GraduatedTransition;
}

export interface PolarizerFilter {
  readonly kind: "polarizer";
  /** What it takes from unpolarized light [stops]; default 1.5. */
  readonly lossStops?: number;
}

export type Filter = NeutralDensityFilter | GraduatedFilter | PolarizerFilter;

/** A filter counted in stops, its mark kept beside. */
export interface FilterReading {
  readonly kind: Filter["kind"];
  /** What it takes from the whole frame [stops]; 0 for a graduated filter, whose clear half lies over the ground. */
  readonly attenuationStops: number;
  /** What it takes from the sky alone [stops]; 0 for all but a graduated filter. */
  readonly graduatedStops: number;
  /** As it was given: `ND1000`, `density 0.9`, `10 stops`, `12.5 %`, `polarizer`. */
  readonly mark: string;
  /** What a filter of this strength is sold as [stops]: 10 for an ND1000. */
  readonly markedStops: number;
  readonly transition?: GraduatedTransition;
}

// Common practice: linear and circular polarizers of the trade take between 1 and 2 stops; an ideal one takes exactly 1
const USUAL_POLARIZER_LOSS_STOPS = 1.5;

const ONE_OF_FOUR = "exactly one of stops, density, factor and transmittancePercent";
const TRANSITIONS: readonly string[] = ["hard", "medium", "soft", "reverse"] satisfies GraduatedTransition[];

/**
 * Read what a filter takes, counted in stops, with its mark beside: an ND1000 takes 9.97 and is sold as 10.
 * @param filter `nd` or `graduated` with one of `stops` [stops] 0 to 20, `density` [1] 0 to 6.0206, `factor` [1] 1 to 1,048,576,
 *   `transmittancePercent` [%] down to 0.0000953; `polarizer` with `lossStops` [stops] 0 to 20, default 1.5
 * @param param name to report errors under
 * @param assumptions where the usual loss of a polarizer is noted when it is taken
 * @returns [stops], over the whole frame and over the sky apart
 * @throws DomainError out of range, or for none or several of the four strengths
 * Source: as `attenuationFromStops`. Held by the golden rows `nd`, `stack` and `factor`, and by tests/core/filters/filter.spec.ts.
 * @example readFilter({ kind: "nd", factor: 1000 }) // 9.966 stops, marked ND1000, sold as 10 stops
 */
export function readFilter(filter: Filter, param = "filter", assumptions: Assumption[] = []): FilterReading {
  if (filter.kind === "polarizer") return readPolarizer(filter, param, assumptions);
  const { stops, mark } = readStrength(filter, param);
  // a strength given in stops is what is engraved; the others are sold by the nearest fraction of a stop
  const markedStops = filter.stops === undefined ? stopsAsMarked(stops) : stops;
  if (filter.kind === "nd") return { kind: "nd", attenuationStops: stops, graduatedStops: 0, mark, markedStops };
  if (filter.kind !== "graduated") {
    const given = (filter as { kind: unknown }).kind;
    throw new DomainError({ param: `${param}.kind`, given, allowed: "nd, graduated, polarizer" });
  }
  const { transition } = filter;
  if (!TRANSITIONS.includes(transition)) {
    throw new DomainError({ param: `${param}.transition`, given: transition, allowed: TRANSITIONS.join(", ") });
  }
  return { kind: "graduated", attenuationStops: 0, graduatedStops: stops, mark, markedStops, transition };
}

function readPolarizer({ lossStops }: PolarizerFilter, param: string, assumptions: Assumption[]): FilterReading {
  const field = `${param}.lossStops`;
  if (lossStops === undefined) {
    const why = "common practice: a polarizer takes 1 to 2 stops";
    assumptions.push({ field, value: USUAL_POLARIZER_LOSS_STOPS, why });
  }
  const stops = requireInRange(field, lossStops ?? USUAL_POLARIZER_LOSS_STOPS, 0, DENSEST_FILTER_STOPS, "stops");
  return { kind: "polarizer", attenuationStops: stops, graduatedStops: 0, mark: "polarizer", markedStops: stops };
}

function readStrength(filter: FilterStrength, param: string): { stops: number; mark: string } {
  const { stops, density, factor, transmittancePercent } = filter;
  const given = Object.entries({ stops, density, factor, transmittancePercent }).filter(([, v]) => v !== undefined);
  if (given.length !== 1) {
    const names = given.map(([name]) => name).join(" and ");
    throw new DomainError({ param, given: names === "" ? undefined : names, allowed: ONE_OF_FOUR });
  }
  if (stops !== undefined) {
    requireInRange(`${param}.stops`, stops, 0, DENSEST_FILTER_STOPS, "stops");
    return { stops, mark: stops === 1 ? "1 stop" : `${stops} stops` };
  }
  if (density !== undefined) {
    // densities are engraved with one decimal at least: 3.0
    const mark = `density ${Number.isInteger(density) ? density.toFixed(1) : density}`;
    return { stops: stopsFromDensity(density, `${param}.density`), mark };
  }
  if (factor !== undefined) return { stops: stopsFromFactor(factor, `${param}.factor`), mark: `ND${factor}` };
  const percent = transmittancePercent as number;
  return { stops: stopsFromTransmittance(percent, `${param}.transmittancePercent`), mark: `${percent} %` };
}
