import type { InputPart } from "@fieldstop/answers";
import type { z } from "@hono/zod-openapi";
import type { Answer, Exchange } from "../middleware/exchange";
import type { Services } from "../services";
import { fieldErrorsFromZod } from "./from-zod";
import { knownProblem } from "./known-problem";
import { problemAnswer } from "./problem";

/** The answer to a request whose handling threw: the problem that it met, or, where that is unknown, a fault of ours, which is reported. */
export function errorAnswer(exchange: Exchange, services: Services, part: InputPart, error: unknown): Answer {
  const known = knownProblem(error, part);
  if (known !== undefined) return problemAnswer(exchange, known.key, known.details);
  // work that was given up since nobody waited for it is no fault either
  if (exchange.isOver)
    return problemAnswer(exchange, "unavailable", { detail: "Nobody waited for the answer any more." });
  services.reportFault(error, exchange.requestId);
  return problemAnswer(exchange, "internal", { detail: "The service met a fault of its own." });
}

/** The answer to input that its schema refuses. */
export function invalidInput(exchange: Exchange, part: InputPart, input: unknown, error: z.ZodError): Answer {
  const errors = fieldErrorsFromZod(part, input, error);
  const detail = errors.map((one) => `${one.pointer || "the body"}: ${one.detail}`).join("; ");
  return problemAnswer(exchange, "invalid-input", { detail, errors });
}
