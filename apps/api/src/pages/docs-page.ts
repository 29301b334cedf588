import { html } from "hono/html";

/** The interactive reference. Script and style come from this service, so it works without an outside network. */
export function docsPage() {
  return html`<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width">
<title>Fieldstop API</title>
<link rel="icon" href="/icon.svg">
<link rel="stylesheet" href="/docs/swagger-ui.css">
</head>
<body>
<main id="reference"></main>
<script src="/docs/swagger-ui-bundle.js"></script>
<script src="/docs/start.js"></script>
</body>
</html>`;
}

export const DOCS_START_SCRIPT = `SwaggerUIBundle({ url: "/openapi.json", dom_id: "#reference", deepLinking: true });
`;
