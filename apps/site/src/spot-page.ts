import { html, render } from "lit-html";
import { type Spot, spotFromQuery } from "./club";
import { USUAL_KIT } from "./evening/kit";
import { loadEvening } from "./evening/load";
import { sunPath } from "./evening/sun-path";
import { FrameBench } from "./frame/frame-bench";
import { registerWorker } from "./page/register-worker";
import { type SpotFacts, spotView } from "./page/spot-view";
import { dateIn, isDate } from "./words/place-time";

const main = document.querySelector("main") as HTMLElement;
const query = new URLSearchParams(location.search);
const spot = spotFromQuery(query);
main.replaceChildren();
if (spot === null) {
  render(
    html`<h1>No such spot</h1><p class="notice">This address names no spot that the Circle knows. <a href="index.html">Tonight’s spots</a> are on the first page.</p>`,
    main,
  );
} else {
  void show(spot);
}
registerWorker();

async function show(spot: Spot): Promise<void> {
  const given = query.get("date");
  const date = isDate(given) ? given : dateIn(spot.timeZone, Date.now());
  document.title = `${spot.name} · Ardvane Camera Circle`;
  let facts: SpotFacts = { spot, date };
  const draw = (): void => {
    render(spotView(facts, main.clientWidth, Date.now()), main);
  };
  const know = (more: Partial<SpotFacts>): void => {
    facts = { ...facts, ...more };
    draw();
  };
  draw();
  new ResizeObserver(draw).observe(main);
  // how long it is until then
  setInterval(draw, 30_000);
  try {
    await loadEvening(spot, date, USUAL_KIT, know);
    const { evening, ridge } = facts;
    if (evening === undefined || ridge === undefined) return;
    const path = await sunPath(evening);
    know({ path });
    if (path.length > 0) know({ bench: new FrameBench(evening, ridge, path).root });
  } catch (error) {
    know({ failure: error });
  }
}
