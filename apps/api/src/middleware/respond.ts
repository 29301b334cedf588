import type { Answer, Exchange } from "./exchange";
import { PAGE_POLICY, SECURITY_FIELDS } from "./security-fields";

type Fields = Readonly<Record<string, string>>;

/** Fields that do not belong to one exchange alone: what every answer has, what was answered, and what stands on the operation. */
export function lastingFields({ standing }: Exchange, fields: Fields): Fields {
  const isPage = fields["content-type"]?.startsWith("text/html") === true;
  const ofPage = isPage ? { "content-security-policy": PAGE_POLICY } : undefined;
  return Object.assign({}, SECURITY_FIELDS, ofPage, fields, standing);
}

/** The one response of an exchange, every field in one plain record: that is what the platform writes fastest. */
export function respond(exchange: Exchange, { status, body, fields, lasting }: Answer): Response {
  const headers = Object.assign({}, lasting === true ? fields : lastingFields(exchange, fields), exchange.fields);
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
