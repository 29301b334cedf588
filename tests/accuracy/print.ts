import { measures } from "./measure";
import { tolerances } from "./tolerances";

// The accuracy table in Markdown, measured anew: `npm run accuracy`. The tests hold the same measures to the same limits.

const plain = (value: number): string => (value === 0 ? "0" : Number(value.toPrecision(2)).toString());

console.log("| what | against | samples | rms | max | held to | unit |");
console.log("|---|---|---|---|---|---|---|");
for (const { id, subject, against, unit, measure } of measures) {
  const { rms, max, samples } = measure();
  const limit = tolerances[id]?.max;
  console.log(
    `| ${subject} | ${against} | ${samples} | ${plain(rms)} | ${plain(max)} | ${limit ?? "nothing"} | ${unit} |`,
  );
}
