import { render } from "lit-html";
import { type Spot, TONIGHT_SPOTS } from "./club";
import { type ComingDay, comingDays } from "./evening/coming-days";
import { USUAL_KIT } from "./evening/kit";
import { loadEvening } from "./evening/load";
import { sunPath } from "./evening/sun-path";
import { registerWorker } from "./page/register-worker";
import { type SpotTonight, tonightView } from "./page/tonight-view";
import { dateIn, isDate } from "./words/place-time";

const main = document.querySelector("main") as HTMLElement;
const given = new URLSearchParams(location.search).get("date");
const today = dateIn(TONIGHT_SPOTS[0]?.timeZone, Date.now());
const date = isDate(given) ? given : today;
const spots: SpotTonight[] = TONIGHT_SPOTS.map((spot) => ({ spot }));
const coming: ComingDay[] = [];

function draw(): void {
  const widthPx = main.clientWidth;
  render(tonightView({ date, today, spots, coming, widthPx, nowMs: Date.now() }), main);
}

function update(index: number, facts: Partial<SpotTonight>): void {
  spots[index] = { ...(spots[index] as SpotTonight), ...facts };
  draw();
}

async function load(spot: Spot, index: number): Promise<void> {
  try {
    await loadEvening(spot, date, USUAL_KIT, (news) => update(index, news));
    const { evening } = spots[index] as SpotTonight;
    if (evening !== undefined) update(index, { path: await sunPath(evening) });
  } catch (error) {
    update(index, { failure: error });
  }
}

/** The coming days, once tonight stands, at the spots whose ridges are there. */
async function lookAhead(): Promise<void> {
  const known = spots.flatMap(({ spot, ridge }) => (ridge === undefined ? [] : [{ spot, ridge }]));
  if (known.length < spots.length) return;
  for await (const day of comingDays(known, date, USUAL_KIT)) {
    coming.push(day);
    draw();
  }
}

main.replaceChildren();
draw();
new ResizeObserver(draw).observe(main);
// how long it is until then
setInterval(draw, 30_000);
void Promise.all(TONIGHT_SPOTS.map(load)).then(lookAhead);
registerWorker();
