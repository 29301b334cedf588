import { readFileSync, writeFileSync } from "node:fs";
import { measures } from "./measure";
import { tolerances } from "./tolerances";

// The accuracy table in Markdown, measured anew: `npm run accuracy`. The tests hold the same measures to the same limits.
// With --write the table of docs/accuracy.md is replaced by it.

const plain = (value: number): string => (value === 0 ? "0" : Number(value.toPrecision(2)).toString());

const rows = measures.map(({ id, subject, against, unit, measure }) => {
  const { rms, max, samples } = measure();
  const limit = tolerances[id]?.max ?? "nothing";
  return `| ${subject} | ${against} | ${samples} | ${plain(rms)} | ${plain(max)} | ${limit} | ${unit} |`;
});
const table = [
  "| what | against | samples | rms | max | held to | unit |",
  "|---|---|---|---|---|---|---|",
  ...rows,
].join("\n");
console.log(table);

if (process.argv.includes("--write")) {
  const page = new URL("../../docs/accuracy.md", import.meta.url);
  const text = readFileSync(page, "utf8");
  writeFileSync(
    page,
    text.replace(/<!-- accuracy -->[\s\S]*<!-- \/accuracy -->/, `<!-- accuracy -->\n${table}\n<!-- /accuracy -->`),
  );
}
