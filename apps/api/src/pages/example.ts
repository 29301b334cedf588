import { html } from "hono/html";

/** A request that a page shows and sends. */
export interface Example {
  readonly id: string;
  readonly title: string;
  readonly about?: string;
  readonly path: string;
  /** Sent as JSON by POST; a GET without it. */
  readonly body?: unknown;
}

/** Where a service listens unless told; the script puts its own address in its place. Never what a request called it. */
export const HERE = "http://127.0.0.1:8787";

/** The request as a line to copy, with a button that sends it where scripts run. */
export function exampleOf({ id, title, about, path, body }: Example) {
  const json = body === undefined ? undefined : JSON.stringify(body);
  const command =
    json === undefined
      ? `curl '${HERE}${path}'`
      : `curl -H 'Content-Type: application/json' ${HERE}${path} -d '${JSON.stringify(body, null, 2)}'`;
  return html`<section aria-labelledby="${id}">
<h3 id="${id}">${title}</h3>
${about === undefined ? "" : html`<p class="faint">${about}</p>`}
<pre tabindex="0" aria-labelledby="${id}"><code>${command}</code></pre>
<p><button type="button" hidden data-path="${path}" ${json === undefined ? "" : html`data-body="${json}"`} aria-controls="${id}-answer">Run it</button> <span class="faint" role="status"></span></p>
<pre tabindex="0" id="${id}-answer" hidden></pre>
</section>`;
}
