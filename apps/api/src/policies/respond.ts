import type { Answer, Exchange } from "./exchange";
import { PAGE_POLICY, SECURITY_FIELDS } from "./security-fields";

/** The one response of an exchange, every field in one plain record: that is what the platform writes fastest. */
export function respond({ fields: ofExchange }: Exchange, { status, body, fields }: Answer): Response {
  const headers: Record<string, string> = { ...SECURITY_FIELDS, ...fields, ...ofExchange };
  if (fields["content-type"]?.startsWith("text/html") && fields["content-security-policy"] === undefined) {
    headers["content-security-policy"] = PAGE_POLICY;
  }
  return new Response(body, { status, headers });
}

/** To HEAD: what GET would have got, its length included. */
export function respondToHead(exchange: Exchange, answer: Answer): Response {
  const { body, fields } = answer;
  const length =
    typeof body === "string" ? new TextEncoder().encode(body).byteLength : (body as Uint8Array)?.byteLength;
  const told = length === undefined ? fields : { ...fields, "content-length": String(length) };
  return respond(exchange, { ...answer, body: null, fields: told });
}
