/** An operation that callers should leave, and since when. */
export interface Deprecation {
  /** When it was deprecated, or will be: RFC 3339. */
  readonly since: string;
  /** After when it may stop answering: RFC 3339. */
  readonly sunset?: string;
  /** A page that tells what to use in its place. */
  readonly link?: string;
}

/** The headers that announce it. RFC 9745: a date as a structured field; RFC 8594: an HTTP date; RFC 8288: the link. */
export function deprecationHeaders({ since, sunset, link }: Deprecation): Record<string, string> {
  return {
    deprecation: `@${Math.floor(Date.parse(since) / 1000)}`,
    ...(sunset !== undefined && { sunset: new Date(sunset).toUTCString() }),
    ...(link !== undefined && { link: `<${link}>; rel="deprecation"; type="text/html"` }),
  };
}
