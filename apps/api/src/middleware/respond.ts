import type { Answer } from "./answer";
import { corsHeaders } from "./cors";
import { deprecationHeaders } from "./deprecation";
import type { PolicySettings } from "./policy-settings";
import type { Matched, RequestContext } from "./request-context";
import { securityHeaders } from "./security-headers";

type Headers = Readonly<Record<string, string>>;

/**
 * Headers that do not belong to one request alone: those of every answer, of this answer, and of its operation. Of a GET they are the same for all callers
 * and are cached with it.
 */
export function headersForAll(context: RequestContext, own: Headers, settings: PolicySettings): Headers {
  const { matched, request } = context;
  const { deprecation } = matched.policy;
  const headers: Record<string, string> = {
    ...securityHeaders(own["content-type"]),
    ...own,
    ...corsHeaders(request, settings.corsOrigins ?? []),
    ...(deprecation && deprecationHeaders(deprecation)),
  };
  const vary = varyOf(matched, settings, headers["vary"]);
  if (vary !== "") headers["vary"] = vary;
  return headers;
}

/** Make the one response of a request, every header in one plain record: that is what the platform writes fastest. */
export function respond(context: RequestContext, answer: Answer, settings: PolicySettings): Response {
  const { status, body, complete } = answer;
  const forAll = complete === true ? answer.headers : headersForAll(context, answer.headers, settings);
  const headers: Record<string, string> = Object.assign({}, forAll, context.headers);
  if (context.request.method !== "HEAD") return new Response(body, { status, headers });
  const length =
    typeof body === "string" ? new TextEncoder().encode(body).byteLength : (body as Uint8Array)?.byteLength;
  if (length !== undefined) headers["content-length"] = String(length);
  return new Response(null, { status, headers });
}

/** The request headers that the answer depends on, so that caches tell answers apart. */
function varyOf({ types }: Matched, { compress }: PolicySettings, own: string | undefined): string {
  const names = [];
  if (types.length > 1) names.push("Accept");
  if (compress !== undefined) names.push("Accept-Encoding");
  if (own !== undefined) names.push(own);
  return names.join(", ");
}
