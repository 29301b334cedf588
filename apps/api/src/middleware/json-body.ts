import { ProblemError } from "../problems/problem";

const utf8 = new TextDecoder("utf-8", { fatal: true });

/**
 * The value that a body means. Bytes that are no UTF-8 are refused: marks in their place the caller never wrote.
 * @throws ProblemError
 */
export function parseJsonBody(bytes: Uint8Array | ArrayBuffer): unknown {
  let text: string;
  try {
    text = utf8.decode(bytes);
  } catch {
    throw malformed("The body is not encoded as UTF-8.");
  }
  try {
    return JSON.parse(text);
  } catch {
    throw malformed("The body is not a JSON document.");
  }
}

/** The refusal of a body whose sender went away in the middle of it: nobody reads the answer, and it is no fault of ours. */
export function cutShort(): ProblemError {
  return malformed("The body is cut short.");
}

function malformed(detail: string): ProblemError {
  return new ProblemError("malformed-request", { detail });
}
