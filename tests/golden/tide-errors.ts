import { stationDatabase } from "@fieldstop/api/tides/station-database";
import rows from "./tides.json";

export interface TideRow {
  readonly id: string;
  readonly inputs: { readonly station: string; readonly kind: string };
  readonly expected: { readonly utc: string; readonly heightM?: number; readonly heightFt?: number };
  readonly tolerance: { readonly minutes: number; readonly metres?: number; readonly feet?: number };
  readonly source: string;
  readonly sourceKind: string;
}

export interface TideError {
  readonly row: TideRow;
  readonly minutes: number;
  readonly metres: number;
}

// exact by definition (international foot, 1959)
export const METRES_PER_FOOT = 0.3048;
const HOUR_MS = 3_600_000;

export const tideRows: readonly TideRow[] = rows;
const source = stationDatabase();

/** High and low waters of a station of the US National Ocean Service, above mean lower low water. */
export async function predicted(station: string, startMs: number, endMs: number) {
  const found = await source.stationById(`noaa/${station}`);
  if (found === undefined) throw new Error(`no station ${station}`);
  return (await source.predict(found, "MLLW", startMs, endMs)).tide.extremes;
}

/** How far each printed high or low water is from the predicted one of its kind within 3 h; throws where there is none. */
export async function tideErrors(): Promise<TideError[]> {
  const errors: TideError[] = [];
  for (const row of tideRows) {
    const printedMs = Date.parse(row.expected.utc);
    const kind = row.inputs.kind === "H" ? "high" : "low";
    const near = await predicted(row.inputs.station, printedMs - 3 * HOUR_MS, printedMs + 3 * HOUR_MS);
    const [found, ...others] = near.filter((extreme) => extreme.kind === kind);
    if (found === undefined || others.length > 0) throw new Error(`not one ${kind} water near ${row.id}`);
    const heightM = row.expected.heightM ?? (row.expected.heightFt as number) * METRES_PER_FOOT;
    errors.push({ row, minutes: (found.instantMs - printedMs) / 60_000, metres: found.heightM - heightM });
  }
  return errors;
}
