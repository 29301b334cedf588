/** Letters, digits and `-._~` between single slashes: nothing that a router, a proxy or a cache could read in two ways. */
const NORMAL = /^\/(?:[\w.~-]+(?:\/[\w.~-]+)*)?$/;
const DOT_SEGMENT = /\/\.{1,2}(?:\/|$)/;
const LONGEST = 200;

/**
 * Whether a path is written in the one form that the service answers: unescaped, without empty or dot segments. No path of the service needs any other,
 * so that what policies judge, what the router matches and what proxies see is the same text.
 */
export function isNormalPath(path: string): boolean {
  return path.length <= LONGEST && NORMAL.test(path) && !DOT_SEGMENT.test(path);
}

/** The path of a request target, without its query; of an absolute one (RFC 9112, 3.2.2) what follows the authority. */
export function pathOf(target: string): string {
  const end = target.indexOf("?");
  const path = end < 0 ? target : target.slice(0, end);
  if (path.startsWith("/")) return path;
  const authority = path.indexOf("://");
  if (authority < 0) return path;
  const slash = path.indexOf("/", authority + 3);
  return slash < 0 ? "/" : path.slice(slash);
}
