import { createFieldstopClient, type FieldstopOptions } from "./client.js";
import type { Client } from "./generated/client/index.js";
import * as operations from "./generated/sdk.gen.js";

/** What may go with any call. */
export interface CallOptions {
  /** Ends the call, its repetitions included. */
  readonly signal?: AbortSignal;
}

// biome-ignore lint/suspicious/noExplicitAny: the generated functions share no narrower type
type Operation = (options: any) => Promise<unknown>;
type InputOf<Op extends Operation, Part extends "query" | "body"> = NonNullable<Parameters<Op>[0][Part]>;
type AnswerOf<Op extends Operation> = NonNullable<Awaited<ReturnType<Op>>>;
type Call<Op extends Operation, Part extends "query" | "body"> = (
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
  const byQuery = <Op extends Operation>(operation: Op): Call<Op, "query"> => bind(operation, "query", client);
  const byBody = <Op extends Operation>(operation: Op): Call<Op, "body"> => bind(operation, "body", client);
  return {
    sky: { getSunPosition: byQuery(operations.getSunPosition) },
    light: {
      findLightWindows: byQuery(operations.findLightWindows),
      findLightWindowsFromBody: byBody(operations.findLightWindowsFromBody),
    },
  };
}

export type Fieldstop = ReturnType<typeof createFieldstop>;

function bind<Op extends Operation, Part extends "query" | "body">(
  operation: Op,
  part: Part,
  client: Client,
): Call<Op, Part> {
  return (input, options) => operation({ client, [part]: input, ...options }) as Promise<AnswerOf<Op>>;
}
