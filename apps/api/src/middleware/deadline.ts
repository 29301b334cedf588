import type { Answer } from "./answer";
import { COME_BACK, problemAnswer } from "./error-answer";
import type { RequestContext } from "./request-context";

/** Answer 503 where an answer is not there by the deadline, and end what works on it. */
export async function withDeadline(
  context: RequestContext,
  work: () => Promise<Answer>,
  deadlineMs: number | undefined,
): Promise<Answer> {
  if (deadlineMs === undefined) return work();
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<Answer>((resolve) => {
    timer = setTimeout(() => {
      const detail = `The answer would take longer than ${deadlineMs / 1000} s.`;
      context.abort(new Error("the deadline has passed"));
      resolve(problemAnswer(context, "unavailable", { detail, headers: COME_BACK }));
    }, deadlineMs);
  });
  try {
    return await Promise.race([work(), late]);
  } finally {
    clearTimeout(timer);
  }
}
