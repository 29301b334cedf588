/** What the reference reads of a schema of the OpenAPI document. */
export interface Schema {
  readonly $ref?: string;
  readonly type?: string | readonly string[];
  readonly description?: string;
  readonly example?: unknown;
  readonly properties?: Readonly<Record<string, Schema>>;
  readonly required?: readonly string[];
  readonly additionalProperties?: Schema | boolean;
  readonly items?: Schema;
  readonly anyOf?: readonly Schema[];
  readonly oneOf?: readonly Schema[];
  readonly allOf?: readonly Schema[];
  readonly enum?: readonly unknown[];
  readonly format?: string;
  readonly pattern?: string;
  readonly minimum?: number;
  readonly maximum?: number;
  readonly minLength?: number;
  readonly maxLength?: number;
  readonly minItems?: number;
  readonly maxItems?: number;
}

export interface Parameter {
  readonly name: string;
  readonly in: string;
  readonly required?: boolean;
  readonly description?: string;
  readonly schema: Schema;
}

export interface Content {
  readonly schema: Schema;
  readonly examples?: Readonly<Record<string, { readonly summary: string; readonly value: unknown }>>;
}

export interface ContractOperation {
  readonly operationId: string;
  readonly tags: readonly string[];
  readonly summary: string;
  readonly description: string;
  readonly parameters?: readonly Parameter[];
  readonly requestBody?: { readonly content: Readonly<Record<string, Content>> };
  readonly responses: Readonly<
    Record<string, { readonly description: string; readonly content?: Readonly<Record<string, Content>> }>
  >;
}

/** What the reference reads of the OpenAPI document. */
export interface Contract {
  readonly info: { readonly description: string };
  readonly tags: readonly { readonly name: string; readonly description: string }[];
  readonly paths: Readonly<Record<string, Readonly<Record<string, ContractOperation>>>>;
  readonly components: { readonly schemas: Readonly<Record<string, Schema>> };
}

/** An operation with where it is asked for. */
export interface PlacedOperation extends ContractOperation {
  readonly method: string;
  readonly path: string;
}

export function operationsOf(contract: Contract): PlacedOperation[] {
  return Object.entries(contract.paths).flatMap(([path, methods]) =>
    Object.entries(methods).map(([method, operation]) => ({ ...operation, method: method.toUpperCase(), path })),
  );
}
