import type { CallOptions } from "./call-options.js";
import { createFieldstopClient, type FieldstopOptions } from "./client.js";
import type { Client } from "./generated/client/index.js";
import * as operations from "./generated/sdk.gen.js";
import type { ForecastsInput, ForecastsLine, ReviewOptions } from "./generated/types.gen.js";
import { streamForecasts } from "./stream-forecasts.js";

const STREAM_BEGINS_WITHIN_MS = 60_000;

// biome-ignore lint/suspicious/noExplicitAny: the generated functions share no narrower type
type Operation = (options: any) => Promise<unknown>;

/** What may go with photographs of a bracket: as for histograms, and the bias of each in place of what the files record. */
export type PhotosOptions = ReviewOptions & { readonly biasStops?: number[] };

/** Where an operation takes its input. */
type InputPart = "query" | "body" | "path";
type InputOf<Op extends Operation, Part extends InputPart> = NonNullable<Parameters<Op>[0][Part]>;
type AnswerOf<Op extends Operation> = NonNullable<Awaited<ReturnType<Op>>>;
type Call<Op extends Operation, Part extends InputPart> = (
  input: InputOf<Op, Part>,
  options?: CallOptions,
) => Promise<AnswerOf<Op>>;

/**
 * The whole API as one object, its operations grouped by subject under their own names.
 * Each takes its input and, where wanted, an abort signal; each throws a `FieldstopProblem` for a refused request.
 * Pages that ship little import the single functions instead, and pass them a client of `createFieldstopClient`.
 */
export function createFieldstop(options: FieldstopOptions) {
  const client = createFieldstopClient(options);
  // fifteen photographs take longer on their way than any other answer takes
  const uploads = createFieldstopClient({ timeoutMs: 120_000, ...options });
  // the first of a thousand lines may need a skyline that nobody asked for before
  const streams = createFieldstopClient({ ...options, timeoutMs: STREAM_BEGINS_WITHIN_MS });
  const byQuery = <Op extends Operation>(operation: Op): Call<Op, "query"> => bind(operation, "query", client);
  const byBody = <Op extends Operation>(operation: Op): Call<Op, "body"> => bind(operation, "body", client);
  const byPath = <Op extends Operation>(operation: Op): Call<Op, "path"> => bind(operation, "path", client);
  return {
    sky: {
      getSunPosition: byQuery(operations.getSunPosition),
      getMoonPosition: byQuery(operations.getMoonPosition),
      getDewPoint: byQuery(operations.getDewPoint),
    },
    light: {
      findLightWindows: byQuery(operations.findLightWindows),
      findLightWindowsFromBody: byBody(operations.findLightWindowsFromBody),
      drawLightWindows: byQuery(operations.drawLightWindows),
      listLightCalendar: byQuery(operations.listLightCalendar),
      traceLightLevels: byBody(operations.traceLightLevels),
      drawLightLevels: byBody(operations.drawLightLevels),
      findAlignments: byBody(operations.findAlignments),
    },
    horizon: { getHorizon: byQuery(operations.getHorizon), drawHorizon: byQuery(operations.drawHorizon) },
    framing: {
      projectSkyline: byBody(operations.projectSkyline),
      drawSkyline: byBody(operations.drawSkyline),
      solveCameraHeight: byBody(operations.solveCameraHeight),
    },
    water: {
      listTideStations: byQuery(operations.listTideStations),
      predictTides: byQuery(operations.predictTides),
    },
    exposure: {
      solveExposure: byBody(operations.solveExposure),
      listEquivalents: byBody(operations.listEquivalents),
      solveLongExposure: byBody(operations.solveLongExposure),
    },
    filters: {
      stackFilters: byBody(operations.stackFilters),
      selectFilters: byBody(operations.selectFilters),
      assessPolarizer: byBody(operations.assessPolarizer),
      assessGraduated: byBody(operations.assessGraduated),
    },
    brackets: {
      planBracket: byBody(operations.planBracket),
      reviewBracket: byBody(operations.reviewBracket),
      reviewBracketPhotos: (
        photos: readonly (Blob | File)[],
        options: PhotosOptions = {},
        callOptions?: CallOptions,
      ): Promise<AnswerOf<typeof operations.reviewBracketPhotos>> => {
        const { biasStops, ...rest } = options;
        const body = { photos: [...photos], options: rest, ...(biasStops === undefined ? {} : { biasStops }) };
        return operations.reviewBracketPhotos({ client: uploads, body, ...callOptions });
      },
    },
    optics: {
      getDepthOfField: byBody(operations.getDepthOfField),
      planFocusStack: byBody(operations.planFocusStack),
      getAngleOfView: byBody(operations.getAngleOfView),
      planPanorama: byBody(operations.planPanorama),
    },
    outings: {
      planOuting: byBody(operations.planOuting),
      compareOutings: byBody(operations.compareOutings),
    },
    forecast: {
      getForecast: byQuery(operations.getForecast),
      drawForecast: byQuery(operations.drawForecast),
      listForecastCalendar: byQuery(operations.listForecastCalendar),
      writeForecastMarkdown: byQuery(operations.writeForecastMarkdown),
      writeForecastText: byQuery(operations.writeForecastText),
      streamForecasts: (input: ForecastsInput, options?: CallOptions): AsyncGenerator<ForecastsLine, void, undefined> =>
        streamForecasts({ client: streams, body: input, ...options }),
    },
    reference: {
      listReferenceTables: (options?: CallOptions): Promise<AnswerOf<typeof operations.listReferenceTables>> =>
        operations.listReferenceTables({ client, ...options }),
      getReferenceTable: byPath(operations.getReferenceTable),
    },
  };
}

export type Fieldstop = ReturnType<typeof createFieldstop>;

function bind<Op extends Operation, Part extends InputPart>(operation: Op, part: Part, client: Client): Call<Op, Part> {
  return (input, options) => operation({ client, [part]: input, ...options }) as Promise<AnswerOf<Op>>;
}
