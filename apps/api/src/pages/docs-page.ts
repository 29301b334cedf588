import { html } from "hono/html";
import { PROBLEM_TYPES } from "../problems/catalogue";
import { type Contract, operationsOf } from "./contract";
import { page } from "./page";

/** The reference: every operation by its subject, and every problem. */
export function docsPage(contract: Contract) {
  const operations = operationsOf(contract);
  return page(
    "Fieldstop API",
    html`<nav aria-label="Service"><ul><li><a href="/">Fieldstop</a></li><li><a href="/openapi.json">OpenAPI document</a></li></ul></nav>
<h1>Reference</h1>
<p class="lead">${contract.info.description}</p>
<p>Where the service asks for a key, send it as <code>Authorization: Bearer …</code>.</p>
<nav aria-label="Subjects"><ul>${contract.tags.map(({ name, description }) => html`<li><a href="#${name}">${description}</a></li>`)}<li><a href="#problems">Problems</a></li></ul></nav>
${contract.tags.map(
  ({ name, description }) => html`<h2 id="${name}">${description}</h2>
<dl class="fields">${operations
    .filter(({ tags }) => tags.includes(name))
    .map(
      ({ operationId, method, path, summary }) =>
        html`<div><dt><code><strong>${method}</strong> ${path}</code></dt><dd><a href="/docs/${operationId}">${summary}</a></dd></div>`,
    )}</dl>`,
)}
<h2 id="problems">Problems</h2>
<p>Every refusal is answered as <code>application/problem+json</code> (RFC 9457): what is wrong, and for each field what came and what is allowed.</p>
<dl class="fields">${Object.entries(PROBLEM_TYPES).map(
      ([key, { title, status }]) =>
        html`<div><dt><code><strong>${status}</strong> ${key}</code></dt><dd><a href="/problems/${key}">${title}</a></dd></div>`,
    )}</dl>`,
  );
}
