import { CommentTag, Converter } from "typedoc";

// Docstrings end with "Source: …" and "Accuracy: …" on lines of their own. TypeDoc takes them for a part of the tag above;
// this gives them a section of their own.

const START = /\n(?=(?:Source|Accuracy|Held by)\b)/;

/** Cuts a tag's content in two where its source begins. */
function cut(content) {
  const i = content.findIndex(({ kind, text }) => kind === "text" && START.test(text));
  if (i === -1) return [content, []];
  const [before, ...rest] = content[i].text.split(START);
  const after = { kind: "text", text: rest.join("\n\n") };
  return [
    [...content.slice(0, i), { kind: "text", text: before }],
    [after, ...content.slice(i + 1)],
  ];
}

/** @param {import("typedoc").Application} app */
export function load(app) {
  app.converter.on(Converter.EVENT_RESOLVE, (_context, { comment }) => {
    if (comment === undefined) return;
    const [summary, ...found] = cut(comment.summary);
    comment.summary = summary;
    const sources = found.flat();
    for (const tag of comment.blockTags) {
      const [content, source] = cut(tag.content);
      tag.content = content;
      sources.push(...source);
    }
    if (sources.length > 0) comment.blockTags.push(new CommentTag("@source", sources));
  });
}
