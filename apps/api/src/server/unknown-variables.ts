import { VARIABLES } from "./config";

/** All that is set in our name is meant for us, however it is written. */
const OURS = /^fieldstop_/i;
/** But for what Kubernetes sets in every container beside a service of this name. */
const SERVICE_LINK = /^FIELDSTOP_(SERVICE_(HOST|PORT)|PORT_\d)|^FIELDSTOP_PORT=tcp:/;

/**
 * A sentence for each variable that is set in our name and that nothing reads, with the known one that is nearest to it: one that is mistyped would
 * otherwise go by in silence. What they hold may be secret and is not repeated.
 */
export function unknownVariables(environment: Readonly<Record<string, string | undefined>>): string[] {
  const unknown = Object.entries(environment)
    .filter(([name, value]) => OURS.test(name) && !VARIABLES.includes(name) && !SERVICE_LINK.test(`${name}=${value}`))
    .map(([name]) => name);
  return unknown.sort().map((name) => `${name} is set, but nothing reads it; the nearest setting is ${nearest(name)}.`);
}

function nearest(name: string): string {
  const typed = name.toUpperCase().replace(OURS, "");
  const byDistance = VARIABLES.map((known) => ({ known, edits: editsBetween(typed, known.replace(OURS, "")) }));
  return byDistance.sort((a, b) => a.edits - b.edits)[0]?.known as string;
}

/** How many letters must be put in, left out or changed to make one word of the other (Levenshtein 1966, by rows). */
function editsBetween(one: string, other: string): number {
  let row = Array.from({ length: other.length + 1 }, (_, i) => i);
  for (const [i, letter] of [...one].entries()) {
    const next = [i + 1];
    for (const [j, otherLetter] of [...other].entries()) {
      const changed = (row[j] as number) + (letter === otherLetter ? 0 : 1);
      next.push(Math.min(changed, (row[j + 1] as number) + 1, (next[j] as number) + 1));
    }
    row = next;
  }
  return row[other.length] as number;
}
