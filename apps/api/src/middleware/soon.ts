/** A value that is there, or will be. */
export type Soon<T> = T | Promise<T>;

/** Goes on with a value: at once where it is there, since each wait for one that is there already costs as much as a policy does. */
export function andThen<T, U>(value: Soon<T>, next: (value: T) => Soon<U>): Soon<U> {
  return value instanceof Promise ? value.then(next) : next(value);
}

/** What a task comes to, or, where it fails now or later, what is made of its error. */
export function orElse<T>(task: () => Soon<T>, failed: (error: unknown) => T): Soon<T> {
  try {
    const value = task();
    return value instanceof Promise ? value.catch(failed) : value;
  } catch (error) {
    return failed(error);
  }
}
