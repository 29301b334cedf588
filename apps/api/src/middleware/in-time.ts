import type { Answer, Exchange } from "./exchange";
import { COME_BACK, refusal } from "./refusal";
import type { Soon } from "./soon";

/** An answer that is on its way, or that it took too long. */
export function inTime(exchange: Exchange, answer: Soon<Answer>, deadlineMs: number | undefined): Soon<Answer> {
  if (deadlineMs === undefined || !(answer instanceof Promise)) return answer;
  return new Promise((resolve, reject) => {
    const timer = setTimeout(() => {
      exchange.abort();
      const detail = `The answer would take longer than ${deadlineMs / 1000} s.`;
      resolve(refusal(exchange, "unavailable", { detail, headers: COME_BACK }));
    }, deadlineMs);
    answer.then(
      (made) => {
        clearTimeout(timer);
        resolve(made);
      },
      (error: unknown) => {
        clearTimeout(timer);
        reject(error);
      },
    );
  });
}
