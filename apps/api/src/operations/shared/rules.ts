/**
 * Rules between the fields of an object, as JSON Schema says them: the contract shows them, and the operation itself refuses what breaks them, naming the
 * field. They are written with `not` and `dependentRequired`, which generators of clients pass over, so that types stay those of the fields.
 */
export interface Rules {
  readonly dependentRequired?: Readonly<Record<string, readonly string[]>>;
  /** Each is what must not be. */
  readonly never?: readonly object[];
}

/** What the description of a schema gets of its rules. */
export function saying(...rules: readonly Rules[]): object {
  const dependent = rules.map(({ dependentRequired }) => dependentRequired ?? {});
  const names = new Set(dependent.flatMap((each) => Object.keys(each)));
  const dependentRequired = Object.fromEntries(
    [...names].map((name) => [name, [...new Set(dependent.flatMap((each) => each[name] ?? []))]]),
  );
  const never = rules.flatMap((each) => each.never ?? []);
  return {
    ...(names.size > 0 && { dependentRequired }),
    ...(never.length > 0 && { not: never.length === 1 ? never[0] : { anyOf: never } }),
  };
}

/** An object with a field, of a value where one is described. */
export function given(name: string, value: object | true = true): object {
  return { required: [name], properties: { [name]: value } };
}

/** An object without any of these fields. */
export function absent(...names: readonly string[]): object {
  return { properties: Object.fromEntries(names.map((name) => [name, false])) };
}

/** All of these at once are refused. */
export function forbidden(...parts: readonly object[]): Rules {
  return { never: [parts.length === 1 ? (parts[0] as object) : { allOf: parts }] };
}

/** A field that makes sense with others alone. */
export function onlyWith(name: string, ...others: readonly string[]): Rules {
  return { dependentRequired: { [name]: others } };
}

/** Both or neither. */
export function together(one: string, other: string): Rules {
  return { dependentRequired: { [one]: [other], [other]: [one] } };
}

export function notTogether(...names: readonly string[]): Rules {
  return forbidden({ required: names, properties: Object.fromEntries(names.map((name) => [name, true])) });
}

export function atLeastOneOf(...names: readonly string[]): Rules {
  return forbidden(absent(...names));
}

export function atMostOneOf(...names: readonly string[]): Rules {
  const pairs = names.flatMap((one, i) => names.slice(i + 1).map((other) => notTogether(one, other)));
  return { never: pairs.flatMap(({ never }) => never ?? []) };
}

export function exactlyOneOf(...names: readonly string[]): Rules {
  return { never: [atLeastOneOf(...names), atMostOneOf(...names)].flatMap(({ never }) => never ?? []) };
}
