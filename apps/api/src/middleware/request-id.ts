const SANE = /^[A-Za-z0-9._:+/=-]{1,128}$/;

/** The id of a request: the caller's where it brought one that is safe to log and to send back, else a new one. */
export function requestIdOf(request: Request): string {
  const brought = request.headers.get("x-request-id");
  return brought !== null && SANE.test(brought) ? brought : crypto.randomUUID();
}
