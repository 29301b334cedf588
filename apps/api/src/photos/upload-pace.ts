import { ProblemError } from "../problems/problem";

/** Each window of an upload brings at least so much: 32 kB/s, which a poor mobile connection exceeds. */
export const PACE_WINDOW_MS = 10_000;
export const MIN_WINDOW_BYTES = 320_000;
/** The largest form needs 26 Mbit/s for it, fifteen JPEG files of 8 MB need 8. */
export const MAX_UPLOAD_MS = 120_000;

export interface UploadPace {
  /** Count bytes that came. */
  add(bytes: number): void;
  /** Stop watching. */
  end(): void;
}

/**
 * Watch how fast an upload comes. Timers run on a clock that only goes forward.
 * @param cutOff called once with the problem, if the upload is too slow
 */
export function watchPace(cutOff: (problem: ProblemError) => void): UploadPace {
  let bytesInWindow = 0;
  const refuse = (detail: string): void => {
    end();
    // the rest of the body is not read, so the connection cannot serve another request
    cutOff(new ProblemError("request-timeout", { detail, headers: { Connection: "close" } }));
  };
  const window = setInterval(() => {
    if (bytesInWindow < MIN_WINDOW_BYTES) {
      const rate = `${MIN_WINDOW_BYTES} bytes in ${PACE_WINDOW_MS / 1000} s`;
      refuse(`The form came more slowly than ${rate}.`);
    }
    bytesInWindow = 0;
  }, PACE_WINDOW_MS);
  const longest = setTimeout(() => refuse(`The form was not complete after ${MAX_UPLOAD_MS / 1000} s.`), MAX_UPLOAD_MS);
  function end(): void {
    clearInterval(window);
    clearTimeout(longest);
  }
  return {
    add: (bytes) => {
      bytesInWindow += bytes;
    },
    end,
  };
}
