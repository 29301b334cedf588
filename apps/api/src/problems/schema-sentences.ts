import { z } from "@hono/zod-openapi";

type RawIssue = z.core.$ZodRawIssue;

const FORMATS: Readonly<Record<string, string>> = {
  date: "not a date such as 2027-03-20",
  datetime: "not an instant such as 2027-03-20T18:00:00Z",
  regex: "not of the form that is documented",
};
const KINDS: Readonly<Record<string, string>> = {
  int: "a whole number",
  number: "a number",
  string: "text",
  boolean: "true or false",
  object: "a JSON object",
  array: "a JSON array",
  null: "null",
};

/** What is wrong with a value, of the issues that schemas leave to whoever tells of them; undefined leaves it to the schemas' library. */
function sentenceOf(issue: RawIssue): string | undefined {
  switch (issue.code) {
    case "invalid_type":
      if (typeof issue.input === "number" && issue.expected === "number") return "beyond what a number can be";
      return `not ${KINDS[issue.expected] ?? `a ${issue.expected}`}`;
    case "invalid_value":
      return issue.values.length === 1 ? `not ${JSON.stringify(issue.values[0])}` : "not one of the values allowed";
    case "too_big":
      return outside(issue.origin, issue.maximum, issue.inclusive === false ? "not less" : "more");
    case "too_small":
      return outside(issue.origin, issue.minimum, issue.inclusive === false ? "not more" : "less");
    case "invalid_format":
      return FORMATS[issue.format] ?? `not of the form of ${issue.format}`;
    case "not_multiple_of":
      return `not a multiple of ${issue.divisor}`;
    case "invalid_union":
      return "of none of the forms allowed";
    case "invalid_key":
    case "invalid_element":
      return "with a key or a value that is not allowed";
    default:
      return undefined;
  }
}

function outside(origin: string, limit: number | bigint, comparison: string): string {
  if (origin !== "array" && origin !== "string") return `${comparison} than ${limit}`;
  const [one, many] = origin === "array" ? ["entry", "entries"] : ["character", "characters"];
  return `${comparison === "less" ? "fewer" : comparison} than ${limit} ${Number(limit) === 1 ? one : many}`;
}

// for every schema that says nothing of its own
z.config({ localeError: sentenceOf });
