import type { Channel, Outcome, Ready } from "@fieldstop/nightly/channels/channel";
import type { Journal } from "@fieldstop/nightly/delivery/journal";
import type { Work } from "@fieldstop/nightly/delivery/work";
import type { ForecastSource, Made } from "@fieldstop/nightly/forecast/forecast-source";
import type { Entry, Ledger } from "@fieldstop/nightly/ledger/ledger";
import type { Place } from "@fieldstop/nightly/places/place";
import type { Forecast } from "@fieldstop/sdk";
import { forecastOfTheStrand } from "./forecast";
import { place } from "./place";

export interface TestWork extends Work {
  /** What the ledger's entries came to, in order. */
  readonly entries: Entry[];
  readonly notes: string[];
  /** What the channel `hook` was given, in order. */
  readonly tried: Ready[];
  /** How many forecasts were asked for. */
  requested: number;
  clockMs: number;
}

export interface TestWorkOptions {
  readonly places?: readonly Place[];
  readonly nowMs?: number;
  readonly outcome?: (entry: Ready, tries: number) => Outcome | Promise<Outcome>;
  readonly make?: (wanted: { place: Place; date: string }, forecast: Forecast) => Made;
}

/** What a job works with, its clock stood still and its channel under the test's hand. */
export async function testWork(ledger: Ledger, options: TestWorkOptions = {}): Promise<TestWork> {
  const { places = [place()], outcome = () => ({ kind: "delivered" }) } = options;
  const forecast = await forecastOfTheStrand();
  const entries: Entry[] = [];
  const notes: string[] = [];
  const tried: Ready[] = [];
  const hook: Channel = {
    deliver: async (entry) => {
      tried.push(entry);
      return outcome(entry, tried.length);
    },
  };
  const journal: Journal = {
    requested: (count) => {
      work.requested += count;
    },
    made: () => {},
    entry: (entry) => entries.push(entry),
    note: (text) => notes.push(text),
  };
  const forecasts: ForecastSource = {
    async *make(wanted) {
      for (const one of wanted) {
        const stayUntil = `${one.date}T20:00:00Z`;
        const its = { ...forecast, date: one.date, stayUntil };
        yield options.make?.(one, its) ?? { wanted: one, forecast: its };
      }
    },
  };
  const work: TestWork = {
    ledger,
    places: new Map(places.map((one) => [one.id, one])),
    channels: new Map([["hook", hook]]),
    forecasts,
    retry: { attempts: 4, baseMs: 1000, longestMs: 3000 },
    journal,
    now: () => work.clockMs,
    random: () => 1,
    entries,
    notes,
    tried,
    requested: 0,
    clockMs: options.nowMs ?? Date.parse("2027-03-20T15:30:00Z"),
  };
  return work;
}
