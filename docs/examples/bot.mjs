// Posts tonight's light for a few places: to a chat's webhook, or to the terminal. Node alone, no packages.
// FIELDSTOP_URL is the service, CHAT_WEBHOOK the webhook, FORECAST_DATE another day than today.

const service = process.env.FIELDSTOP_URL ?? "http://127.0.0.1:8787";
const webhook = process.env.CHAT_WEBHOOK;
const date = process.env.FORECAST_DATE;
const spots = [
  { name: "Ardvane Strand", latitude: 56.6, longitude: -9.4, timeZone: "Europe/London" },
  { name: "Gannet Head", latitude: 56.6369, longitude: -9.4736, timeZone: "Europe/London" },
];

/** The objects of an NDJSON body, each as soon as its line is there. */
async function* lines(body) {
  let rest = "";
  for await (const text of body.pipeThrough(new TextDecoderStream())) {
    const whole = (rest + text).split("\n");
    rest = whole.pop() ?? "";
    for (const line of whole) yield JSON.parse(line);
  }
}

async function post(text) {
  if (webhook === undefined) return console.log(text);
  const headers = { "Content-Type": "application/json" };
  const response = await fetch(webhook, { method: "POST", headers, body: JSON.stringify({ text }) });
  if (!response.ok) throw new Error(`the webhook answered ${response.status}`);
}

const response = await fetch(`${service}/v1/forecasts`, {
  method: "POST",
  headers: { "Content-Type": "application/json" },
  body: JSON.stringify({ places: spots.map((place) => ({ place, ...(date && { date }) })) }),
});
if (!response.ok) throw new Error((await response.json()).detail);

let isWhole = false;
for await (const { index, forecast, problem, done } of lines(response.body)) {
  const name = spots[index]?.name;
  if (forecast) {
    const facts = forecast.summary.map(({ text }) => `- ${text}`);
    const cautions = forecast.cautions.map(({ text }) => text).join(" ");
    await post([`${name}: ${forecast.headline}`, ...facts, cautions].join("\n"));
  } else if (problem) {
    await post(`${name}: ${problem.detail}`);
  }
  isWhole ||= done === true;
}
// the last line counts the others: without it the stream was cut short
if (!isWhole) throw new Error("the forecasts ended before the last place");
