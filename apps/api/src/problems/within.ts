import { DomainError } from "@fieldstop/core";

/** Runs a calculation on one member of the request, so that what it refuses is named by its place in the whole. */
export function within<T>(member: string, calculate: () => T): T {
  try {
    return calculate();
  } catch (error) {
    if (!(error instanceof DomainError)) throw error;
    const { code, param, given, allowed, unit } = error;
    throw new DomainError({
      code,
      param: `${member}.${param}`,
      given,
      allowed,
      ...(unit === undefined ? {} : { unit }),
    });
  }
}
