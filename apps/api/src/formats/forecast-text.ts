import { oneLine } from "./escape";
import { momentRows, weatherLine } from "./forecast-rows";
import type { Messages } from "./messages/messages";
import { placeName } from "./place-name";
import type { Told } from "./told";

const WIDTH = 76;

/** A forecast as plain text, for terminals and letters. */
export function forecastText(told: Told, messages: Messages): string {
  const { words } = messages;
  const title = oneLine(words.title(told.session, told.date, placeName(told.place)));
  const rows = momentRows(told, messages);
  const widest = Math.max(...rows.map(({ name }) => name.length));
  const weather = weatherLine(told, messages);
  return [
    title,
    "",
    ...wrapped(told.headline, ""),
    "",
    ...told.summary.flatMap(({ text }) => wrapped(text, "- ")),
    "",
    `${words.moments} · ${words.timesOf(told.timeZone)}`,
    ...rows.map(
      ({ time, name, contrast, approach, settings }) =>
        `${time}  ${name.padEnd(widest)}  ${contrast}; ${approach}; ${settings}`,
    ),
    "",
    words.takeCare,
    ...told.cautions.flatMap(({ code }) => wrapped(messages.caution[code], "- ")),
    ...(weather === null ? [] : ["", ...wrapped(weather, "")]),
    "",
  ].join("\n");
}

/** Lines of a readable length, those after the first set in under the first. */
function wrapped(text: string, mark: string): string[] {
  const lines: string[] = [];
  let line = mark;
  for (const word of oneLine(text).split(" ")) {
    const longer = line === mark || line.trim() === "" ? `${line}${word}` : `${line} ${word}`;
    if (longer.length > WIDTH && line.trim() !== mark.trim()) {
      lines.push(line);
      line = `${" ".repeat(mark.length)}${word}`;
    } else line = longer;
  }
  return [...lines, line];
}
