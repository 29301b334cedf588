import { readFile } from "node:fs/promises";

/** Beside the built file, as the build wrote it. */
const BUILT = new URL("./openapi.json", import.meta.url);
const COMMITTED = new URL("../../../../openapi/openapi.json", import.meta.url);

/**
 * The committed contract as it is served: writing it from the code takes a tenth of a second, in which nobody else is answered.
 * @returns undefined where it was not shipped
 */
export async function contractText(): Promise<string | undefined> {
  const built = await textOf(BUILT);
  if (built !== undefined) return built;
  const committed = await textOf(COMMITTED);
  return committed === undefined ? undefined : JSON.stringify(JSON.parse(committed));
}

function textOf(place: URL): Promise<string | undefined> {
  return readFile(place, "utf8").catch(() => undefined);
}
