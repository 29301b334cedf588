import { escapeMarkdown } from "./escape";
import { momentRows, weatherLine } from "./forecast-rows";
import type { Messages } from "./messages/messages";
import { placeName } from "./place-name";
import type { Told } from "./told";

/** A forecast as Markdown (CommonMark, with a table as most readers of it show). */
export function forecastMarkdown(told: Told, messages: Messages): string {
  const { words } = messages;
  const weather = weatherLine(told, messages);
  const cells = (...texts: readonly string[]): string => `| ${texts.map(escapeMarkdown).join(" | ")} |`;
  return [
    `## ${escapeMarkdown(words.title(told.session, told.date, placeName(told.place)))}`,
    "",
    `**${escapeMarkdown(told.headline)}**`,
    "",
    ...told.summary.map(({ text }) => `- ${escapeMarkdown(text)}`),
    "",
    `### ${escapeMarkdown(words.moments)}`,
    "",
    `| ${escapeMarkdown(words.timesOf(told.timeZone))} | | | | |`,
    "| --- | --- | --- | --- | --- |",
    ...momentRows(told, messages).map((row) => cells(row.time, row.name, row.contrast, row.approach, row.settings)),
    "",
    `### ${escapeMarkdown(words.takeCare)}`,
    "",
    ...told.cautions.map(({ code }) => `- ${escapeMarkdown(messages.caution[code])}`),
    ...(weather === null ? [] : ["", `*${escapeMarkdown(weather)}*`]),
    "",
  ].join("\n");
}
