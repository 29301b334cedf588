import type { Forecast } from "@fieldstop/sdk";
import type { Place } from "../places/place";

/** What is posted of one night at one place, whatever the channel: it is kept until it has arrived. */
export interface Message {
  readonly place: { readonly id: string; readonly name: string; readonly latitude: number; readonly longitude: number };
  readonly date: string;
  readonly timeZone: string;
  readonly session: Forecast["session"];
  /** When the forecast was made, RFC 3339 in UTC. */
  readonly madeAt: string;
  readonly headline: string;
  readonly headlineCode: Forecast["headlineCode"];
  readonly summary: Forecast["summary"];
  /** Go or stay. */
  readonly verdict: Forecast["verdict"];
  readonly arriveBy: string;
  readonly stayUntil: string;
  readonly directLight: Forecast["light"]["directLight"];
  readonly moments: readonly {
    readonly name: string;
    readonly instant: string;
    readonly directLight: boolean;
    readonly contrastStops: number;
    readonly approach: string;
  }[];
  readonly pack: Forecast["pack"];
  /** Whose weather and tide it rests on, to be shown with it. */
  readonly credits: readonly string[];
  readonly cautions: Forecast["cautions"];
  readonly assumptions: Forecast["assumptions"];
  /** The whole of the service's answer, for those who ask for it. */
  readonly forecast?: Forecast;
}

export function messageOf(place: Place, forecast: Forecast, madeMs: number): Message {
  const { id, latitude, longitude, name = id } = place;
  const { date, timeZone, session, headline, headlineCode, summary, verdict, arriveBy, stayUntil } = forecast;
  const { pack, cautions, assumptions } = forecast;
  return {
    place: { id, name, latitude, longitude },
    date,
    timeZone,
    session,
    madeAt: new Date(madeMs).toISOString(),
    headline,
    headlineCode,
    summary,
    verdict,
    arriveBy,
    stayUntil,
    directLight: forecast.light.directLight,
    moments: forecast.moments.map(({ name: moment, instant, directLight, contrastStops, approach }) => ({
      name: moment,
      instant,
      directLight,
      contrastStops,
      approach: approach.kind,
    })),
    pack,
    credits: [forecast.weather, forecast.tide].flatMap((source) => (source === undefined ? [] : [source.attribution])),
    cautions,
    assumptions,
  };
}
