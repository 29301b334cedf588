import type { IncomingMessage, RequestListener, ServerResponse } from "node:http";
import { type Asked, pathOf } from "../middleware/asked";
import { type CorsOrigins, corsFields } from "../middleware/cors";
import { cacheControl } from "../middleware/lifetime";
import type { ShedReason } from "../middleware/metrics";
import { requestIdOf } from "../middleware/request-id";
import { SECURITY_FIELDS } from "../middleware/security-fields";
import { problemBody } from "../problems/problem";
import { askedOf } from "./asked-of";
import { WaitingLine } from "./waiting-line";

interface Asking {
  readonly incoming: IncomingMessage;
  readonly outgoing: ServerResponse;
}

export interface SheddingSettings {
  readonly mostInFlight: number;
  /** Requests that were taken and are not answered yet. */
  readonly inFlight: () => number;
  readonly corsOrigins: CorsOrigins;
  /** Told of each that is not a page, a probe or a count. */
  readonly onRequest?: () => void;
  /** Told of each that was shed. */
  readonly onShed?: (why: ShedReason) => void;
}

/** What a server tells of. */
export interface SheddingListeners {
  readonly onRequest: RequestListener;
  readonly onConnection: () => void;
}

/** When to come back [s]. */
const RETRY_AFTER = "1";
const DETAIL = "More is asked than can be answered in time; try again shortly.";

/**
 * Takes requests in turn, and tells callers to come back where more is asked than can be answered, before anything else is done for them: what is spent
 * on the refused is lost to the others. Pages, probes and counts are answered whatever the load.
 */
export function shedFirst(settings: SheddingSettings, rest: RequestListener): SheddingListeners {
  const { mostInFlight, inFlight, onRequest, onShed } = settings;
  const refuse = refusal(settings);
  const shed = (why: ShedReason, { incoming, outgoing }: Asking): void => {
    onShed?.(why);
    refuse(incoming, outgoing);
  };
  const line = new WaitingLine<Asking>({
    take: (asking) => {
      const { incoming, outgoing } = asking;
      // hung up meanwhile
      if (outgoing.destroyed) return;
      if (inFlight() >= mostInFlight) shed("in-flight", asking);
      else rest(incoming, outgoing);
    },
    shed: (asking) => shed("event-loop", asking),
  });
  return {
    onRequest: (incoming, outgoing) => {
      const { url = "", method } = incoming;
      if (!url.startsWith("/v1/") || method === "OPTIONS") rest(incoming, outgoing);
      else {
        onRequest?.();
        line.come({ incoming, outgoing });
      }
    },
    onConnection: () => line.newConnection(),
  };
}

/** Writes the refusal, from what was made beforehand. */
function refusal({ corsOrigins }: SheddingSettings): RequestListener {
  const standing = Object.entries({
    ...SECURITY_FIELDS,
    "content-type": "application/problem+json",
    "retry-after": RETRY_AFTER,
    "cache-control": cacheControl("momentary", true, 0),
  }).flat();
  const [before, after] = JSON.stringify(
    problemBody({ path: "%", requestId: "" }, "unavailable", { detail: DETAIL }),
  ).split('"%"');
  return (incoming, outgoing) => {
    const { url = "", method } = incoming;
    const asked: Asked = askedOf(incoming);
    const fields = [...standing, "x-request-id", requestIdOf(asked)];
    const cors = corsFields(asked, corsOrigins);
    for (const name in cors) fields.push(name, cors[name] as string);
    const body = `${before}${JSON.stringify(pathOf(url))}${after}`;
    fields.push("content-length", String(Buffer.byteLength(body)));
    outgoing.writeHead(503, fields);
    outgoing.end(method === "HEAD" ? undefined : body);
  };
}
