import { html } from "hono/html";
import { PROBLEM_TYPES, type ProblemKey } from "../problems/catalogue";

/** The page behind a problem's URI: what it means and what to do. */
export function problemPage(key: ProblemKey) {
  const { title, status, explanation } = PROBLEM_TYPES[key];
  return html`<!doctype html>
<html lang="en">
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>${title} (${status})</title>
<h1>${title}</h1>
<p>Status ${status}, type <code>/problems/${key}</code></p>
<p>${explanation}</p>
</html>`;
}

export function isProblemKey(key: string): key is ProblemKey {
  return Object.hasOwn(PROBLEM_TYPES, key);
}
