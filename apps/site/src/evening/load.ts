import type { Forecast, OutingPlan, SkyInput } from "@fieldstop/sdk";
import type { Spot } from "../club";
import { type Evening, moonInWords } from "./evening";
import { type KnownForecast, loadForecast } from "./forecast";
import { cameraOf, filtersOf, type Kit, USUAL_FOCAL_LENGTH_MM } from "./kit";
import { plan } from "./reckon";
import { loadRidge, type Ridge } from "./ridge";

/** What is known of an evening so far: the light first, then the ridge and the plan that the page reckons from it. */
export type EveningNews = { readonly evening: Evening } | { readonly evening: Evening; readonly ridge: Ridge };

/**
 * An evening from the service's forecast and the page's own plan with the club's bag. Without a forecast the plan stands alone, under a clear sky;
 * without a ridge there is nothing to plan with, and what failed is thrown.
 */
export async function loadEvening(
  spot: Spot,
  date: string,
  kit: Kit,
  tell: (news: EveningNews) => void,
): Promise<void> {
  const known = loadForecast(spot, date, kit).catch(() => null);
  const ridge = loadRidge(spot);
  ridge.catch(() => undefined);
  const first = await known;
  if (first !== null) tell({ evening: { ...factsOf(first, spot), moments: [], pack: [] } });
  const found = await ridge;
  tell({ evening: await planned(spot, date, kit, found, first), ridge: found });
}

/** One evening from the ridge alone, under a clear sky. */
export function eveningHere(spot: Spot, date: string, ridge: Ridge, kit: Kit): Promise<Evening> {
  return planned(spot, date, kit, ridge, null);
}

/** An evening with its moments planned in the page, under the sky that the forecast tells of, where there is one. */
async function planned(
  spot: Spot,
  date: string,
  kit: Kit,
  ridge: Ridge,
  known: KnownForecast | null,
): Promise<Evening> {
  const timeZone = known?.forecast.timeZone ?? spot.timeZone ?? Intl.DateTimeFormat().resolvedOptions().timeZone;
  const { latitude, longitude, name } = spot;
  const place = { name, latitude, longitude, timeZone, elevationM: spot.elevationM ?? ridge.elevationM };
  const horizon = ridge.horizon;
  const sky = known === null ? undefined : skyOf(known.forecast);
  const credits = ridge.attribution === undefined ? [] : [ridge.attribution];
  const facts = (light: Evening["light"], moon: OutingPlan["moon"]): Omit<Evening, "moments" | "pack"> => {
    if (known !== null) {
      const told = factsOf(known, spot);
      return { ...told, attributions: [...told.attributions, ...credits] };
    }
    const { cautions, assumptions } = light;
    return {
      spot,
      date,
      timeZone,
      light,
      sky: [moonInWords(moon)],
      tide: [],
      cautions,
      assumptions,
      attributions: credits,
      origin: { kind: "here" },
    };
  };
  const camera = { ...cameraOf(kit), azimuthDeg: spot.cameraAzimuthDeg, focalLengthMm: USUAL_FOCAL_LENGTH_MM };
  const filters = filtersOf(kit);
  const outing = await plan({
    place,
    date,
    session: spot.part,
    camera,
    filters,
    horizon,
    ...(sky === undefined ? {} : { sky }),
  });
  return {
    ...facts(outing.light, outing.moon),
    verdict: known?.forecast.verdict.text ?? outing.verdict.text,
    moments: outing.moments,
    pack: outing.pack,
    // the service knows the ground round the spot, which the page does not
    cautions: known?.forecast.cautions ?? outing.cautions,
  };
}

const STALE_WEATHER = "The weather's provider cannot be reached: an earlier forecast of it stands in.";
const SKY_LINES: ReadonlySet<string> = new Set(["sky-outlook", "sky-not-known", "moon", "lens-fog"]);

function factsOf({ forecast, origin }: KnownForecast, spot: Spot): Omit<Evening, "moments" | "pack"> {
  const { date, timeZone, light, summary, tide, weather, cautions, assumptions } = forecast;
  const lines = (wanted: (code: string) => boolean): string[] =>
    summary.filter(({ code }) => wanted(code)).map(({ text }) => text);
  return {
    spot,
    date,
    timeZone,
    light,
    verdict: forecast.verdict.text,
    sky: [...lines((code) => SKY_LINES.has(code)), ...(weather?.stale ? [STALE_WEATHER] : [])],
    tide: lines((code) => code === "tide"),
    cautions,
    assumptions,
    attributions: [weather?.attribution, tide?.attribution].filter((text) => text !== undefined),
    origin,
  };
}

/** The weather of a forecast as the calculations take it. */
function skyOf({ weather }: Forecast): SkyInput | undefined {
  if (weather === undefined) return undefined;
  const { cloudCover, temperatureC, relativeHumidity } = weather;
  return {
    cloudCover,
    ...(temperatureC == null ? {} : { temperatureC }),
    ...(relativeHumidity == null ? {} : { relativeHumidity }),
  };
}
