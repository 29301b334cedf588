/** The same, never to be changed, all the way down. */
type Fixed<T> = T extends readonly (infer Item)[]
  ? readonly Fixed<Item>[]
  : T extends object
    ? { readonly [Key in keyof T]: Fixed<T[Key]> }
    : T;

/** A request as the reference shows it; each is sent by a test and must get its answer. */
export interface RequestExample<Body> {
  readonly summary: string;
  readonly value: Fixed<Body>;
}

/** Examples of one operation, by a short name. */
export type RequestExamples<Body> = Readonly<Record<string, RequestExample<Body>>>;
