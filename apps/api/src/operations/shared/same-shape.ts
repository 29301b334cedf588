/** `true` where two types can stand for each other, arrays being equal whether read-only or not: a schema and the type it mirrors. */
export type SameShape<A, B> = [Plain<A>] extends [Plain<B>] ? ([Plain<B>] extends [Plain<A>] ? true : never) : never;

type Plain<T> = T extends readonly (infer Item)[]
  ? Plain<Item>[]
  : T extends object
    ? { -readonly [Key in keyof T]: Plain<T[Key]> }
    : T;

/** Fails to compile unless its argument is `true`. */
export type Assert<T extends true> = T;
