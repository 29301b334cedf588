import { html } from "hono/html";
import type { Content, Contract, PlacedOperation, Schema } from "./contract";
import { type Example, exampleOf, HERE } from "./example";
import { page } from "./page";
import { namesWithin, parameterList, schemaSection, typeOf } from "./schema-fields";

/** One operation: requests to run, what it takes and what it answers, each schema once. */
export function operationPage(contract: Contract, operation: PlacedOperation) {
  const { method, path, summary, description, parameters = [], requestBody, responses } = operation;
  const bodies = Object.entries(requestBody?.content ?? {});
  const answered = Object.entries(responses["200"]?.content ?? {});
  const { schemas } = contract.components;
  const inRequest = namesWithin(schemas, [...parameters, ...bodies.map(([, content]) => content)].map(schemaOf));
  const inAnswer = namesWithin(
    schemas,
    answered.map(([, content]) => schemaOf(content)),
  );
  for (const name of inRequest) inAnswer.delete(name);
  return page(
    `${summary}: Fieldstop API`,
    html`<nav aria-label="Reference"><ul><li><a href="/docs">Reference</a></li><li><a href="#examples">Examples</a></li><li><a href="#request">Request</a></li><li><a href="#answer">Answer</a></li></ul></nav>
<h1>${summary}</h1>
<p><code><strong>${method}</strong> ${path}</code></p>
<p>${description}</p>

<h2 id="examples">Examples</h2>
${examplesOf(operation).map(exampleOf)}
${bodies.some(([type]) => type === "multipart/form-data") ? formExample(path) : ""}

<h2 id="request">Request</h2>
${parameters.length === 0 ? "" : parameterList(parameters)}
${bodies.map(mediaLine)}
${parameters.length + bodies.length === 0 ? html`<p>It takes no parameters.</p>` : ""}
${sectionsOf(schemas, inRequest)}

<h2 id="answer">Answer</h2>
${answered.map(mediaLine)}
<dl>${Object.entries(responses).map(([status, response]) => html`<dt>${status}</dt><dd>${response.description}</dd>`)}</dl>
<p class="faint">Every refusal is <code>application/problem+json</code> and names the field: <a href="/docs#problems">problems</a>.</p>
${sectionsOf(schemas, inAnswer)}`,
    "/page.js",
  );
}

/** A GET with the examples of what it cannot do without; a body for each example of the contract. */
export function examplesOf({ operationId, method, path, parameters = [], requestBody }: PlacedOperation): Example[] {
  if (method === "POST") {
    const examples = Object.entries(requestBody?.content["application/json"]?.examples ?? {});
    return examples.map(([id, example]) => ({ id, title: example.summary, path, body: example.value }));
  }
  const must = parameters.filter(({ required }) => required === true);
  // where any of several will do, the place does
  const given = must.length > 0 ? must : parameters.filter(({ name }) => name === "latitude" || name === "longitude");
  const query = new URLSearchParams();
  let filled = path;
  for (const { name, in: where, schema } of given) {
    if (where === "path") filled = filled.replace(`{${name}}`, encodeURIComponent(String(schema.example)));
    else query.set(name, String(schema.example));
  }
  return [
    {
      id: `${operationId}-example`,
      title: "The shortest request",
      path: query.size === 0 ? filled : `${filled}?${query}`,
    },
  ];
}

function formExample(path: string) {
  return html`<h3 id="form">Three photographs</h3>
<pre tabindex="0" aria-labelledby="form"><code>curl ${HERE}${path} -F photos=@dark.jpg -F photos=@middle.jpg -F photos=@bright.jpg</code></pre>`;
}

function mediaLine([type, { schema }]: [string, Content]) {
  return html`<p><code>${type}</code>: ${typeOf(schema)}</p>`;
}

function sectionsOf(schemas: Readonly<Record<string, Schema>>, names: Iterable<string>) {
  return [...names].map((name) => schemaSection(name, schemas[name] as Schema));
}

function schemaOf({ schema }: { readonly schema: Schema }): Schema {
  return schema;
}
