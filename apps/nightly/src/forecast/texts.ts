import type { Message } from "./message";

/** Above the text, in any form: `Ardvane Strand, Saturday 20 March 2027, evening`. */
export function titleOf({ place, date, session }: Message): string {
  const day = new Intl.DateTimeFormat("en-GB", {
    weekday: "long",
    day: "numeric",
    month: "long",
    year: "numeric",
    timeZone: "UTC",
  }).format(new Date(`${date}T00:00:00Z`));
  return `${place.name}, ${day.replace(",", "")}, ${session}`;
}

export function plainText(message: Message): string {
  return [
    titleOf(message),
    message.headline,
    ...message.summary.map(({ text }) => `- ${text}`),
    ...message.cautions.map(({ text }) => `! ${text}`),
    ...message.credits,
  ].join("\n");
}

export function markdown(message: Message): string {
  const cautions = message.cautions.map(({ text }) => `> **Caution:** ${escapeMarkdown(text)}`);
  return [
    `**${escapeMarkdown(titleOf(message))}**`,
    escapeMarkdown(message.headline),
    message.summary.map(({ text }) => `- ${escapeMarkdown(text)}`).join("\n"),
    ...cautions,
    ...message.credits.map(escapeMarkdown),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}

export function html(message: Message): string {
  return [
    `<p>${escapeHtml(message.headline)}</p>`,
    `<ul>${message.summary.map(({ text }) => `<li>${escapeHtml(text)}</li>`).join("")}</ul>`,
    ...message.cautions.map(({ text }) => `<p><strong>Caution:</strong> ${escapeHtml(text)}</p>`),
    ...message.credits.map((text) => `<p>${escapeHtml(text)}</p>`),
  ].join("\n");
}

// CommonMark 0.31, section 2.4: any ASCII punctuation may be escaped; these are the ones that begin something
function escapeMarkdown(text: string): string {
  return text.replace(/[\\`*_{}[\]<>#|~]/g, "\\$&");
}

function escapeHtml(text: string): string {
  return text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
}
