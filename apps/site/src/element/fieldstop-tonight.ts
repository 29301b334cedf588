import { createFieldstopClient, type Forecast, getForecast, isProblem } from "@fieldstop/sdk";
import { ELEMENT_STYLE } from "./element-style";
import { words } from "./element-words";
import { drawSkyline } from "./skyline-sketch";

// Where the script came from, which is where the service is unless a page says otherwise; only a classic script knows while it runs
const SCRIPT_URL = document.currentScript instanceof HTMLScriptElement ? document.currentScript.src : "";
const RENEW_MS = 30 * 60_000;

/**
 * `<fieldstop-tonight latitude longitude name service>`: tonight's light at a place, for any page. What it shows stays within its shadow tree; everything that
 * comes from attributes or from the service is set as text.
 */
export class FieldstopTonight extends HTMLElement {
  static readonly observedAttributes = [
    "latitude",
    "longitude",
    "name",
    "service",
    "time-zone",
    "azimuth",
    "date",
    "session",
  ];
  readonly #root = this.attachShadow({ mode: "open" });
  #ended = new AbortController();
  #renew: ReturnType<typeof setInterval> | undefined;
  #requested = false;

  constructor() {
    super();
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(ELEMENT_STYLE);
    this.#root.adoptedStyleSheets = [sheet];
  }

  connectedCallback(): void {
    this.#renew = setInterval(() => this.#ask(), RENEW_MS);
    this.#ask();
  }

  disconnectedCallback(): void {
    clearInterval(this.#renew);
    this.#ended.abort();
  }

  attributeChangedCallback(): void {
    if (this.isConnected) this.#ask();
  }

  /** Asks once for all attributes that change together. */
  #ask(): void {
    if (this.#requested) return;
    this.#requested = true;
    queueMicrotask(() => {
      this.#requested = false;
      void this.#load();
    });
  }

  async #load(): Promise<void> {
    this.#ended.abort();
    const ended = new AbortController();
    this.#ended = ended;
    const latitude = this.#number("latitude", 90);
    const longitude = this.#number("longitude", 180);
    if (latitude === null || longitude === null) return this.#say("This needs a latitude and a longitude in degrees.");
    if (this.#root.childElementCount === 0) this.#say("Reading the ridge …");
    try {
      const azimuthDeg = this.#number("azimuth", 360);
      const client = createFieldstopClient({ baseUrl: this.#service(), retry: { attempts: 2 } });
      const forecast = await getForecast({
        client,
        signal: ended.signal,
        query: {
          latitude,
          longitude,
          session: this.getAttribute("session") === "morning" ? "morning" : "evening",
          ...given("name", this.getAttribute("name")),
          ...given("timeZone", this.getAttribute("time-zone")),
          ...given("date", this.getAttribute("date")),
          ...(azimuthDeg === null ? {} : { azimuthDeg }),
        },
      });
      if (!ended.signal.aborted) this.#show(forecast);
    } catch (error) {
      if (ended.signal.aborted) return;
      this.#say(
        isProblem(error) && error.status < 500
          ? error.detail
          : "The light cannot be told at the moment: the service is not to be reached.",
      );
    }
  }

  #show(forecast: Forecast): void {
    const { title, clock, what, lines, caution } = words(forecast, this.getAttribute("name"));
    const sketch = drawSkyline(forecast);
    this.#root.replaceChildren(
      element(
        "section",
        { "aria-label": title },
        element("p", { class: "title" }, title),
        element(
          "p",
          { class: "clock-line" },
          ...(clock === null ? [] : [element("span", { class: "clock" }, clock), " "]),
          element("span", { class: "what" }, what),
        ),
        element("p", { class: "headline" }, forecast.headline),
        ...(sketch === null ? [] : [sketch]),
        element("ul", {}, ...lines.map((line) => element("li", {}, line))),
        element("p", { class: "caution" }, caution),
        ...credits(forecast),
      ),
    );
  }

  #say(text: string): void {
    this.#root.replaceChildren(element("section", {}, element("p", { class: "headline", role: "status" }, text)));
  }

  #number(name: string, most: number): number | null {
    const text = this.getAttribute(name);
    const value = text === null || text.trim() === "" ? Number.NaN : Number(text);
    return Math.abs(value) <= most ? value : null;
  }

  #service(): string {
    const named = this.getAttribute("service") ?? "";
    return named !== "" ? new URL(named, document.baseURI).href : new URL("/", SCRIPT_URL || document.baseURI).href;
  }
}

function credits({ weather, tide }: Forecast): HTMLElement[] {
  const texts = [weather?.attribution, tide?.attribution].filter((text) => text !== undefined);
  return texts.map((text) => element("p", { class: "credit" }, text));
}

function given<Key extends string>(key: Key, text: string | null): { [K in Key]?: string } {
  return text === null || text === "" ? {} : ({ [key]: text } as { [K in Key]?: string });
}

function element(
  name: string,
  attributes: Readonly<Record<string, string>>,
  ...children: (Node | string)[]
): HTMLElement {
  const made = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) made.setAttribute(key, value);
  made.append(...children);
  return made;
}

if (customElements.get("fieldstop-tonight") === undefined) customElements.define("fieldstop-tonight", FieldstopTonight);
