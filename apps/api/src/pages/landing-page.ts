import { html, raw } from "hono/html";
import { exampleOf, HERE } from "./example";
import { LANDING_EXAMPLES } from "./landing-examples";
import { page } from "./page";

const STRAND = "latitude=56.6&amp;longitude=-9.4&amp;name=Ardvane%20Strand&amp;timeZone=Europe%2FLondon";

/** What the service is for, with requests to run and pictures of the demo island, drawn as they are looked at. */
export function landingPage() {
  return page(
    "Fieldstop: light, terrain and exposure for one evening",
    html`<h1>The ridge, not the almanac, decides when the light goes.</h1>
<p class="lead">Fieldstop answers what a landscape photographer must know about one evening: when direct light really leaves, whether one frame holds the scene or a graduated filter or a bracket is needed, how long to expose while the light falls, how high to put the tripod, and what to pack. It is an HTTP API and a typed SDK for other apps, club pages and bots.</p>
<nav aria-label="Reference"><ul>
<li><a href="/docs">Reference</a></li>
<li><a href="/openapi.json">OpenAPI document</a></li>
<li><a href="/v1/reference">Tables</a></li>
</ul></nav>

<h2>Tonight on Ardvane</h2>
<p>Each picture is an address to put into an <code>img</code>; it follows the reader's light or dark. The island does not exist; the sun over it does.</p>
${picture("forecast", "Tonight's forecast for Ardvane Strand as a card", "Tonight in one card")}
${picture("horizon", "The skyline round Ardvane Strand with today's path of the sun over it and the moments at which it is cut", "The skyline all round, with the sun's way today")}
${picture("light-windows", "The light of today at Ardvane Strand, from dawn to dusk", "The day's light")}

<h2>Three requests to run</h2>
${LANDING_EXAMPLES.map((example) => exampleOf(example))}

<h2>In your own code</h2>
<pre tabindex="0"><code>import { createFieldstop } from "@fieldstop/sdk";

const fieldstop = createFieldstop({ baseUrl: "${HERE}" });
const day = await fieldstop.light.findLightWindows({ latitude: 56.6, longitude: -9.4 });
console.log(day.directLight.lastInstant, day.directLight.intervals.at(-1)?.endCause);</code></pre>

<h2>Take care</h2>
<p>Never look at the sun through a lens or an optical finder; photographic filters are not solar filters. Tides, swell, soft mud, cliffs, wildlife and dark paths come before any photograph: local tables, signs, wardens and licensed guides have the last word.</p>`,
    "/page.js",
  );
}

/** A picture of the strand today, laid out for a phone where the page is narrow. */
function picture(name: string, alternative: string, caption: string) {
  const at = raw(`/v1/${name}.svg?${STRAND}`);
  return html`<figure>
<picture>
<source media="(max-width: 40rem)" srcset="${at}&amp;width=400">
<img src="${at}&amp;width=1200" alt="${alternative}">
</picture>
<figcaption>${caption}: <code>/v1/${name}.svg</code></figcaption>
</figure>`;
}
