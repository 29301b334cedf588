import { en } from "./en";
import type { Messages } from "./messages";

const TABLES = { en } as const satisfies Record<string, Messages>;

export interface Language {
  /** As it stands in Content-Language. */
  readonly tag: string;
  readonly messages: Messages;
}

/**
 * The language that comes nearest to the one given: its own table, else that of the tag shortened from its end, else English.
 * Source: RFC 4647, 3.4 (lookup).
 */
export function languageFor(given: string | undefined): Language {
  const parts = (given ?? "en").toLowerCase().split("-");
  for (; parts.length > 0; parts.pop()) {
    const tag = parts.join("-");
    if (Object.hasOwn(TABLES, tag)) return { tag, messages: TABLES[tag as keyof typeof TABLES] };
  }
  return { tag: "en", messages: en };
}
