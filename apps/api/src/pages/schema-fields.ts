import { html } from "hono/html";
import type { HtmlEscapedString } from "hono/utils/html";
import type { Parameter, Schema } from "./contract";

type Html = HtmlEscapedString | Promise<HtmlEscapedString>;

interface Field {
  readonly name: string;
  readonly required: boolean;
  readonly description: string | undefined;
  readonly schema: Schema;
}

/** The members of an object, or its kinds, under its name. */
export function schemaSection(name: string, schema: Schema): Html {
  const fields = Object.entries(schema.properties ?? {}).map(([member, of]) => ({
    name: member,
    required: schema.required?.includes(member) === true,
    description: of.description ?? of.allOf?.find(({ description }) => description !== undefined)?.description,
    schema: of,
  }));
  return html`<section aria-labelledby="${name}">
<h3 id="${name}">${name}</h3>
${schema.description === undefined ? "" : html`<p>${schema.description}</p>`}
${schema.properties === undefined ? html`<p>${typeOf(schema)}</p>` : fieldList(fields)}
</section>`;
}

export function parameterList(parameters: readonly Parameter[]): Html {
  return fieldList(
    parameters.map(({ name, required = false, description, schema }) => ({ name, required, description, schema })),
  );
}

/** The names of the schemas that some mention, by themselves and through others, in the order of mention. */
export function namesWithin(schemas: Readonly<Record<string, Schema>>, roots: readonly Schema[]): Set<string> {
  const names = new Set<string>();
  const visit = (schema: Schema | undefined): void => {
    if (schema?.$ref === undefined) {
      if (schema !== undefined) partsOf(schema).forEach(visit);
      return;
    }
    const name = nameOf(schema.$ref);
    if (names.has(name)) return;
    names.add(name);
    visit(schemas[name]);
  };
  roots.forEach(visit);
  return names;
}

/** The type in words, with its bounds and links to the schemas that it mentions. */
export function typeOf(schema: Schema): Html {
  if (schema.$ref !== undefined) return html`<a href="#${nameOf(schema.$ref)}">${nameOf(schema.$ref)}</a>`;
  const choices = schema.anyOf ?? schema.oneOf;
  if (choices !== undefined) return joined(choices.map(typeOf), " or ");
  // what stands beside a reference only describes it
  if (schema.allOf !== undefined)
    return joined(schema.allOf.filter(({ $ref }) => $ref !== undefined).map(typeOf), ", ");
  if (schema.enum !== undefined)
    return joined(
      schema.enum.map((value) => html`<code>${String(value)}</code>`),
      " or ",
    );
  if (schema.items !== undefined) {
    return html`list${between(schema.minItems, schema.maxItems, " of ")} of: ${typeOf(schema.items)}`;
  }
  if (typeof schema.additionalProperties === "object") return html`by name: ${typeOf(schema.additionalProperties)}`;
  const length = between(schema.minLength, schema.maxLength, ", ");
  return html`${[schema.type ?? "anything"].flat().join(" or ")}${schema.format === undefined ? "" : ` (${schema.format})`}${between(schema.minimum, schema.maximum, ", ")}${length === "" ? "" : `${length} characters`}${schema.pattern === undefined ? "" : html`, <code>${schema.pattern}</code>`}`;
}

function fieldList(fields: readonly Field[]): Html {
  return html`<dl class="fields">${fields.map(
    ({ name, required, description, schema }) => html`<div><dt><code>${name}</code></dt><dd>
<p class="faint">${required ? html`<strong>required</strong>` : "optional"}; ${typeOf(schema)}${exampleValue(schema)}</p>
${[description, schema.items?.description].map((words) => (words === undefined ? "" : html`<p>${words}</p>`))}
</dd></div>`,
  )}</dl>`;
}

function exampleValue({ example }: Schema): Html | string {
  return example === undefined
    ? ""
    : html`; for example <code>${typeof example === "string" ? example : JSON.stringify(example)}</code>`;
}

function partsOf({ properties, items, additionalProperties, anyOf = [], oneOf = [], allOf = [] }: Schema) {
  const named = typeof additionalProperties === "object" ? [additionalProperties] : [];
  return [...Object.values(properties ?? {}), ...named, ...anyOf, ...oneOf, ...allOf, items];
}

/** Bounds in words, after what leads up to them; nothing where there are none. */
function between(least: number | undefined, most: number | undefined, lead: string): string {
  if (least === undefined && most === undefined) return "";
  if (least === undefined) return `${lead}at most ${most}`;
  if (most === undefined) return `${lead}at least ${least}`;
  return `${lead}${least === most ? least : `${least} to ${most}`}`.replaceAll("-", "−");
}

function joined(parts: readonly Html[], separator: string): Html {
  return html`${parts.map((part, index) => (index === 0 ? part : html`${separator}${part}`))}`;
}

function nameOf(reference: string): string {
  return reference.slice("#/components/schemas/".length);
}
