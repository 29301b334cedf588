import { readFile, stat } from "node:fs/promises";
import { dirname, resolve } from "node:path";
import { LineCounter, parseDocument } from "yaml";
import type { z } from "zod";
import type { RetryPolicy } from "../delivery/retry-policy";
import { PlacesError, type PlacesFault } from "./fault";
import { lineOf } from "./line-of";
import type { Place } from "./place";
import { type ChannelSettings, PlacesFile } from "./schema";

export interface Places {
  readonly places: readonly Place[];
  readonly channels: Readonly<Record<string, ChannelSettings>>;
  readonly retry: RetryPolicy;
}

/** Reads a places file. @throws PlacesError with every fault in it, and the line of each. */
const LARGEST_BYTES = 64 * 1024 * 1024;

export async function readPlaces(file: string): Promise<Places> {
  let text: string;
  try {
    const found = await stat(file);
    // a pipe that nobody writes to would be waited for for ever
    if (!found.isFile()) throw new PlacesError(file, [{ path: "", detail: "is no plain file" }]);
    if (found.size > LARGEST_BYTES) {
      throw new PlacesError(file, [{ path: "", detail: `is too large; allowed: ${LARGEST_BYTES} bytes` }]);
    }
    text = await readFile(file, "utf8");
  } catch (error) {
    if (error instanceof PlacesError) throw error;
    throw new PlacesError(file, [{ path: "", detail: `cannot be read (${(error as NodeJS.ErrnoException).code})` }]);
  }
  return parsePlaces(text, file);
}

/** The same for a text, YAML or JSON (which YAML contains); files of channels are found from the folder of `file`. */
export function parsePlaces(text: string, file: string): Places {
  const lines = new LineCounter();
  const document = parseDocument(text, { lineCounter: lines, prettyErrors: false });
  if (document.errors.length > 0) {
    const faults = document.errors.map(({ pos, message }) => ({
      path: "",
      line: lines.linePos(pos[0]).line,
      detail: message,
    }));
    throw new PlacesError(file, faults);
  }
  // an alias that unfolds into millions of nodes is refused by the library
  const parsed = PlacesFile.safeParse(document.toJS({ maxAliasCount: 1000 }));
  const faults = parsed.success ? cross(parsed.data) : parsed.error.issues.flatMap(faultsOf);
  if (faults.length > 0) {
    const located = faults.map(({ path, detail }) => ({
      path: path.join("."),
      line: lineOf(document, lines, path),
      detail,
    }));
    throw new PlacesError(file, located satisfies PlacesFault[]);
  }
  return complete(parsed.data as PlacesFile, dirname(resolve(file)));
}

interface PathFault {
  readonly path: readonly PropertyKey[];
  readonly detail: string;
}

function faultsOf(issue: z.core.$ZodIssue): PathFault[] {
  if (issue.code === "unrecognized_keys") {
    return issue.keys.map((key) => ({ path: [...issue.path, key], detail: "no such field" }));
  }
  return [{ path: issue.path, detail: issue.message }];
}

/** What one field can only be judged by from another. */
function cross(file: PlacesFile): PathFault[] {
  const faults: PathFault[] = [];
  const seen = new Map<string, number>();
  const names = (kind: string, given: string | undefined, known: object, path: readonly PropertyKey[]) => {
    if (given === undefined || Object.hasOwn(known, given)) return;
    const allowed = Object.keys(known).join(", ") || "none";
    faults.push({ path, detail: `no ${kind} is named "${given}"; there are: ${allowed}` });
  };
  file.defaults.channels?.forEach((given, index) => {
    names("channel", given, file.channels, ["defaults", "channels", index]);
  });
  names("kit", file.defaults.kit, file.kits, ["defaults", "kit"]);
  file.places.forEach((place, index) => {
    const path = ["places", index];
    const before = seen.get(place.id);
    if (before !== undefined)
      faults.push({ path: [...path, "id"], detail: `"${place.id}" is places.${before} already` });
    seen.set(place.id, index);
    for (const field of ["timeZone", "postAt", "channels"] as const) {
      if (place[field] ?? file.defaults[field]) continue;
      faults.push({ path, detail: `${field} is missing, and defaults has none` });
    }
    place.channels?.forEach((given, at) => {
      names("channel", given, file.channels, [...path, "channels", at]);
    });
    names("kit", place.kit, file.kits, [...path, "kit"]);
  });
  return faults;
}

function complete(file: PlacesFile, folder: string): Places {
  const { defaults, kits } = file;
  const places = file.places.map(({ kit: ownKit, camera, filters: ownFilters, ...rest }): Place => {
    const kit = kits[ownKit ?? defaults.kit ?? ""] ?? {};
    const session = rest.session ?? defaults.session ?? "evening";
    const filters = ownFilters ?? kit.filters;
    return {
      ...rest,
      timeZone: (rest.timeZone ?? defaults.timeZone) as string,
      postAt: (rest.postAt ?? defaults.postAt) as string,
      session,
      leadDays: rest.leadDays ?? defaults.leadDays ?? (session === "morning" ? 1 : 0),
      camera: { ...kit.camera, ...camera },
      ...(filters === undefined ? {} : { filters }),
      channels: [...new Set(rest.channels ?? defaults.channels)],
    };
  });
  const channels = Object.entries(file.channels).map(([name, channel]) => [
    name,
    "file" in channel ? { ...channel, file: resolve(folder, channel.file) } : channel,
  ]);
  const { attempts, firstSeconds, longestSeconds } = file.retry;
  const retry = { attempts, baseMs: firstSeconds * 1000, longestMs: longestSeconds * 1000 };
  return { places, channels: Object.fromEntries(channels), retry };
}
