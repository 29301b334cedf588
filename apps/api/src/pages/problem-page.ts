import { html } from "hono/html";
import { PROBLEM_TYPES, type ProblemKey } from "../problems/catalogue";
import { page } from "./page";

/** The page behind a problem's URI: what it means and what to do. */
export function problemPage(key: ProblemKey) {
  const { title, status, explanation } = PROBLEM_TYPES[key];
  return page(
    `${title} (${status})`,
    html`<h1>${title}</h1>
<p class="lead">${explanation}</p>
<dl><dt>status</dt><dd>${status}</dd><dt>type</dt><dd><code>/problems/${key}</code></dd></dl>
<p class="faint">Every refusal is answered as <code>application/problem+json</code> (RFC 9457). <a href="/">Fieldstop</a>, <a href="/docs">reference</a>.</p>`,
  );
}

export function isProblemKey(key: string): key is ProblemKey {
  return Object.hasOwn(PROBLEM_TYPES, key);
}
