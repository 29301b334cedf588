import { DomainError } from "../domain-error";

/** Does work whose arguments stand at `path` in a request, so that its errors name the field of the request. */
export function underPath<T>(path: string, work: () => T): T {
  try {
    return work();
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    const { code, param, given, allowed, unit } = error;
    throw new DomainError({ code, param: `${path}.${param}`, given, allowed, ...(unit === undefined ? {} : { unit }) });
  }
}
