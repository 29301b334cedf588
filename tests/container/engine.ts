import { type SpawnSyncReturns, spawnSync } from "node:child_process";

/** What builds and runs images here: Docker or Podman, which take the same words. */
export class Engine {
  readonly name: string;

  private constructor(name: string) {
    this.name = name;
  }

  /** The first that answers; undefined where there is none. */
  static find(): Engine | undefined {
    const name = ["docker", "podman"].find((one) => spawnSync(one, ["info"]).status === 0);
    return name === undefined ? undefined : new Engine(name);
  }

  /** What it says; throws what it complains of. */
  say(...args: readonly string[]): string {
    const { status, stdout, stderr } = this.try(...args);
    if (status !== 0) throw new Error(`${this.name} ${args.join(" ")}: ${stderr}`);
    return stdout.trim();
  }

  try(...args: readonly string[]): SpawnSyncReturns<string> {
    return spawnSync(this.name, args, { encoding: "utf8" });
  }

  /** Whether an image is here, or can be fetched. */
  has(image: string): boolean {
    return this.try("image", "inspect", image).status === 0 || this.try("pull", image).status === 0;
  }

  /** Builds the container file of a folder, with its output shown. */
  build(folder: string, image: string, options: readonly string[]): void {
    // Podman's own format has no health check
    const format = this.name === "podman" ? ["--format", "docker"] : [];
    const args = ["build", ...format, ...options, "-f", "Containerfile", "-t", image, "."];
    if (spawnSync(this.name, args, { cwd: folder, stdio: "inherit" }).status !== 0)
      throw new Error("it cannot be built");
  }
}
