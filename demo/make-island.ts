import { mkdirSync, writeFileSync } from "node:fs";
import { buildTiles } from "./island/tiles";

const folder = new URL("./elevation/", import.meta.url);
mkdirSync(folder, { recursive: true });
for (const [name, bytes] of buildTiles()) {
  writeFileSync(new URL(name, folder), bytes);
  console.log(`${name}  ${bytes.length} bytes`);
}
