/** One field at fault, in the body (`/place/latitude`), in a form (`form:photos/2`) or in the query (`query:latitude`). */
export interface FieldError {
  readonly pointer: string;
  readonly detail: string;
  readonly received?: unknown;
  readonly allowed?: string;
}

/** The ways in which an answer can be refused; each is a problem type at `/problems/{key}`. */
export const REFUSALS = {
  "invalid-input": { title: "Some input is missing, unknown or out of range", status: 400 },
  "not-found": { title: "Nothing is at this path", status: 404 },
  impossible: { title: "The request was understood, but it has no answer", status: 422 },
  unavailable: { title: "The service cannot answer just now", status: 503 },
} as const;

export type RefusalKey = keyof typeof REFUSALS;

/** Thrown where a request has no answer for a reason that core does not know of. */
export class Refusal extends Error {
  override readonly name = "Refusal";

  constructor(
    readonly key: RefusalKey,
    readonly detail: string,
    readonly errors?: readonly FieldError[],
  ) {
    super(detail);
  }
}
