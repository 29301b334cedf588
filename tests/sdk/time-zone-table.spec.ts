import { readFileSync } from "node:fs";
import tzLookup from "@photostructure/tz-lookup";
import { expect, it } from "vitest";
import { timeZoneAt } from "../../packages/sdk/src/offline/time-zones";
import { TABLE_FILE, timeZoneTable } from "../../scripts/write-time-zone-table";

it("is as the script writes it", () => {
  expect(readFileSync(TABLE_FILE, "utf8") === timeZoneTable(), "npm run time-zones").toBe(true);
});

it("knows the same zones as the package that the service asks", () => {
  for (let latitude = -85; latitude <= 85; latitude += 8.5) {
    for (let longitude = -178; longitude <= 178; longitude += 7.3) {
      expect(timeZoneAt(latitude, longitude)).toBe(tzLookup(latitude, longitude));
    }
  }
});
