import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { describe, expect, it } from "vitest";

interface Package {
  readonly name: string;
  readonly private?: boolean;
  readonly license?: string;
  readonly files?: readonly string[];
  readonly workspaces?: readonly string[];
  readonly allowScripts?: Readonly<Record<string, boolean>>;
  readonly dependencies?: Readonly<Record<string, string>>;
}

const root = fileURLToPath(new URL("../..", import.meta.url));
const read = <T>(path: string) => JSON.parse(readFileSync(join(root, path), "utf8")) as T;
const whole = read<Package>("package.json");
const workspaces = whole.workspaces ?? [];
const { packages } = read<{
  packages: Record<string, { license?: string; hasInstallScript?: boolean; link?: boolean }>;
}>("package-lock.json");
const guide = readFileSync(join(root, "docs/self-hosting.md"), "utf8");

describe("a package of ours", () => {
  it.each(["", ...workspaces])("in ./%s names its licence", (folder) => {
    expect(read<Package>(join(folder, "package.json")).license).toBe("MIT");
    expect(packages[folder]?.license).toBe("MIT");
  });

  it("is a workspace wherever it lies", () => {
    const found = ["packages", "apps"].flatMap((folder) =>
      readdirSync(join(root, folder)).map((name) => `${folder}/${name}`),
    );
    expect([...workspaces].sort()).toEqual(found.sort());
  });

  const published = workspaces.filter((folder) => read<Package>(`${folder}/package.json`).private !== true);
  it.each(published)("in ./%s is published with the text of its licence", (folder) => {
    // npm packs a LICENSE beside the manifest whatever else "files" names
    expect(readFileSync(join(root, folder, "LICENSE"), "utf8")).toBe(readFileSync(join(root, "LICENSE"), "utf8"));
  });
});

describe("what is installed", () => {
  const nameOf = (path: string) => path.slice(path.lastIndexOf("node_modules/") + "node_modules/".length);

  it("runs no script of a package at the install, and the guide names each that would", () => {
    const withScript = new Set(
      Object.entries(packages)
        .filter(([, { hasInstallScript }]) => hasInstallScript === true)
        .map(([path]) => nameOf(path)),
    );
    expect(Object.keys(whole.allowScripts ?? {}).sort()).toEqual([...withScript].sort());
    expect(new Set(Object.values(whole.allowScripts ?? {}))).toEqual(new Set([false]));
    for (const name of withScript) expect(guide).toContain(`\`${name}\``);
  });

  it("reports nothing to anybody", () => {
    expect(Object.keys(packages).map(nameOf)).not.toContain("@scarf/scarf");
  });

  it.each(["apps/api", "apps/nightly", "packages/terrain"])("for ./%s is told of in the guide", (folder) => {
    const names = Object.keys(read<Package>(`${folder}/package.json`).dependencies ?? {});
    for (const name of names.filter((of) => !of.startsWith("@fieldstop/"))) {
      const told = guide.includes(`\`${name}\``) || guide.includes(`\`${name.split("/")[0]}/*\``);
      expect(told, name).toBe(true);
    }
  });
});
