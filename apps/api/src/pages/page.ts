import { html } from "hono/html";
import type { HtmlEscapedString } from "hono/utils/html";

type Html = HtmlEscapedString | Promise<HtmlEscapedString>;

/** A page of the service: its style, and its script if it has one, come from the service itself. */
export function page(title: string, body: Html, script?: string): Html {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>${title}</title>
<link rel="icon" href="/icon.svg">
<link rel="stylesheet" href="/page.css">
${script === undefined ? "" : html`<script src="${script}" defer></script>`}
</head>
<body>
<main>
${body}
</main>
</body>
</html>`;
}
