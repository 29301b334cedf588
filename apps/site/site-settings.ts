/** Where the built page finds the service; empty for the host that the page itself comes from. */
export const serviceUrl = readServiceUrl(process.env["FIELDSTOP_SERVICE_URL"]);

// Nothing but the page's own files, and the service; the pictures are drawn in the page
export const contentSecurityPolicy = [
  "default-src 'none'",
  "script-src 'self'",
  "style-src 'self'",
  "img-src 'self'",
  "manifest-src 'self'",
  "worker-src 'self'",
  `connect-src 'self'${serviceUrl === "" ? "" : ` ${new URL(serviceUrl).origin}`}`,
  "base-uri 'none'",
  "form-action 'self'",
].join("; ");

function readServiceUrl(given = ""): string {
  if (given === "") return "";
  if (!URL.canParse(given) || !/^https?:$/.test(new URL(given).protocol)) {
    throw new Error(`FIELDSTOP_SERVICE_URL must be an http or https address, not "${given}"`);
  }
  return given.replace(/\/+$/, "");
}
