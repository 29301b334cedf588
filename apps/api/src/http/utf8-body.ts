import type { Context } from "hono";
import { ProblemError } from "../problems/problem";

const utf8 = new TextDecoder("utf-8", { fatal: true });

/**
 * Reads a body as UTF-8 for whoever parses it afterwards. Bytes that are none are refused: the web's own reader would put marks in their place that
 * the caller never wrote.
 */
export async function readUtf8Body({ req }: Context): Promise<void> {
  const bytes = await req.raw.arrayBuffer().catch(() => malformed("The body is cut short."));
  try {
    // the router keeps promises here, and types them as what they hold
    Object.assign(req.bodyCache, { text: Promise.resolve(utf8.decode(bytes)) });
  } catch {
    malformed("The body is not encoded as UTF-8.");
  }
}

function malformed(detail: string): never {
  throw new ProblemError("malformed-request", { detail });
}
