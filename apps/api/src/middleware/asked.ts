/** What the policies read of a request: a web Request is one, and so is whatever a platform has before it makes one. */
export interface Asked {
  readonly method: string;
  /** Of names in lower case. */
  readonly headers: { get(name: string): string | null };
  /** Aborted when the caller hangs up; absent where that cannot be told, or matters to nobody. */
  readonly signal?: AbortSignal;
}

/** The path of a target, without its query. */
export function pathOf(target: string): string {
  const mark = target.indexOf("?");
  return mark < 0 ? target : target.slice(0, mark);
}

/** Path and query of a request, as they came. */
export function targetOf({ url }: Request): string {
  return url.slice(url.indexOf("/", url.indexOf("://") + 3));
}
