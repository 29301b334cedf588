import { homedir } from "node:os";
import { join } from "node:path";

/** Where this system's users keep what can be fetched again: XDG base directories, or what macOS and Windows have in their place. */
export function cacheFolder(
  environment: Readonly<Record<string, string | undefined>> = process.env,
  platform: NodeJS.Platform = process.platform,
): string {
  const { XDG_CACHE_HOME, LOCALAPPDATA } = environment;
  if (platform === "darwin") return join(homedir(), "Library/Caches/fieldstop");
  if (platform === "win32" && LOCALAPPDATA) return join(LOCALAPPDATA, "fieldstop", "cache");
  // the specification has relative paths ignored
  return join(XDG_CACHE_HOME?.startsWith("/") ? XDG_CACHE_HOME : join(homedir(), ".cache"), "fieldstop");
}
