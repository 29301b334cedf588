/** Of every answer. It may be embedded anywhere, but loads and runs nothing, whatever a browser takes it for. HSTS is the proxy's, who has the certificate. */
export const SECURITY_HEADERS = {
  "content-security-policy": "default-src 'none'; frame-ancestors 'none'",
  "cross-origin-resource-policy": "cross-origin",
  "referrer-policy": "no-referrer",
  "x-content-type-options": "nosniff",
} as const;

/** Of every page that sets none of its own: scripts, styles and pictures of this service alone. */
const PAGE_POLICY =
  "default-src 'none'; script-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; font-src 'self' data:; connect-src 'self'; " +
  "base-uri 'none'; form-action 'none'; frame-ancestors 'none'";

/** The security headers of an answer of a type. */
export function securityHeaders(contentType: string | undefined): Readonly<Record<string, string>> {
  if (contentType?.startsWith("text/html") !== true) return SECURITY_HEADERS;
  return { ...SECURITY_HEADERS, "content-security-policy": PAGE_POLICY };
}
