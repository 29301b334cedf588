import {
  type CameraInput,
  createFieldstop,
  type FieldstopProblem,
  type ForecastRequest,
  isProblem,
  type Problem,
  type SubjectInput,
} from "@fieldstop/sdk";
import { type ForecastSource, type Made, ServiceOutage, type Wanted } from "./forecast-source";

export interface ServiceAddress {
  readonly baseUrl: string;
  readonly apiKey?: string | undefined;
}

/** Forecasts from a Fieldstop service. */
export function fromService({ baseUrl, apiKey }: ServiceAddress): ForecastSource {
  const fieldstop = createFieldstop({ baseUrl, ...(apiKey === undefined ? {} : { apiKey }) });
  return {
    async *make(wanted, signal): AsyncGenerator<Made, void, undefined> {
      let faults = 0;
      const open = new Set(wanted);
      try {
        const lines = fieldstop.forecast.streamForecasts({ places: wanted.map(requestOf) }, { signal });
        for await (const line of lines) {
          if ("done" in line) continue;
          const requested = wanted[line.index];
          if (requested === undefined) continue;
          open.delete(requested);
          if ("forecast" in line) yield { wanted: requested, forecast: line.forecast };
          else if (passes(line.problem)) faults++;
          else yield { wanted: requested, refused: sentence(line.problem) };
        }
      } catch (error) {
        signal.throwIfAborted();
        if (isProblem(error) && error.type !== FOREIGN && !passes(error)) {
          for (const requested of open) yield { wanted: requested, refused: sentence(error) };
          return;
        }
        throw new ServiceOutage(reason(error), { cause: error });
      }
      if (faults > 0) throw new ServiceOutage(`${faults} places were not served`);
    },
  };
}

/** The fields of the request are those of the places file; the service judges their ranges. */
function requestOf({ place, date }: Wanted): ForecastRequest {
  const { id, name, latitude, longitude, elevationM, eyeHeightM, timeZone } = place;
  const { session, camera, subject, filters, tideStation } = place;
  const request = {
    id,
    place: { name, latitude, longitude, elevationM, eyeHeightM, timeZone },
    date,
    session,
    camera: camera as CameraInput,
    subject: subject as SubjectInput | undefined,
    filters,
    tideStation,
  };
  return request as ForecastRequest;
}

/** RFC 9457, section 4.2.1: a problem without a type, as the SDK makes of the error page of something that stands before the service. */
const FOREIGN = "about:blank";

/** RFC 9110, RFC 8470 and RFC 6585: states that pass by themselves; the others lie with what was asked, or with who asked. */
function passes({ status }: Pick<Problem, "status">): boolean {
  return status === 408 || status === 425 || status === 429 || status >= 500;
}

interface Said {
  readonly detail: string;
  readonly errors?: FieldstopProblem["errors"];
}

function sentence({ detail, errors = [] }: Said): string {
  return [detail, ...errors.map((error) => `${error.pointer}: ${error.detail}`)].join(" ");
}

function reason(error: unknown): string {
  if (isProblem(error)) return `${error.title}: ${error.detail}`;
  if (!(error instanceof Error)) return String(error);
  const cause = error.cause as { code?: string } | undefined;
  return cause?.code ?? error.message;
}
