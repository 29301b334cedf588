import { existsSync } from "node:fs";
import { mkdtemp, readdir, readFile, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { atomFeed } from "@fieldstop/nightly/channels/atom";
import { calendar } from "@fieldstop/nightly/channels/calendar";
import { fileChannel } from "@fieldstop/nightly/channels/file-channel";
import { writeFileAtomically } from "@fieldstop/nightly/files/write-file";
import { titleOf } from "@fieldstop/nightly/forecast/texts";
import { LmdbLedger } from "@fieldstop/nightly/ledger/lmdb-ledger";
import { XMLParser, XMLValidator } from "fast-xml-parser";
import { afterEach, beforeEach, describe, expect, it } from "vitest";
import { ready } from "../support/ready";

let folder: string;
let ledger: LmdbLedger;
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), "nightly-files-"));
  ledger = new LmdbLedger(join(folder, "ledger"));
});
afterEach(async () => {
  await ledger.close();
  await rm(folder, { recursive: true });
});

const never = new AbortController().signal;
const feedSettings = {
  title: "The light on Ardvane <&>",
  author: "Ardvane Camera Circle",
  url: undefined,
  id: "urn:x:1",
};

interface AtomEntry {
  readonly id: string;
  readonly title: string;
  readonly updated: string;
  readonly link: { readonly href: string };
  readonly content: string;
}

/** What a parser makes of a feed, held to what RFC 4287 requires of it. */
function parsed(xml: string): { title: string; entries: AtomEntry[] } {
  expect(XMLValidator.validate(xml)).toBe(true);
  const parser = new XMLParser({
    ignoreAttributes: false,
    attributeNamePrefix: "",
    isArray: (name) => name === "entry",
    parseTagValue: false,
  });
  const { feed } = parser.parse(xml);
  expect(feed.xmlns).toBe("http://www.w3.org/2005/Atom");
  const text = (node: string | { "#text": string }): string => (typeof node === "string" ? node : node["#text"]);
  for (const element of [feed, ...feed.entry]) {
    expect(text(element.id)).toMatch(/^[a-z]+:/);
    expect(text(element.title)).not.toBe("");
    expect(element.updated).toMatch(/^\d{4}-\d\d-\d\dT\d\d:\d\d:\d\d(\.\d+)?Z$/);
  }
  expect(feed.author.name).toBe("Ardvane Camera Circle");
  const entries = feed.entry.map((entry: Record<string, never>) => ({
    ...entry,
    title: text(entry["title"] as never),
    content: text(entry["content"] as never),
  }));
  expect(new Set(entries.map(({ id }: AtomEntry) => id)).size).toBe(entries.length);
  return { title: text(feed.title), entries };
}

describe("a feed file", () => {
  it("has an entry for each night, newest first, and stays the same however often one is delivered", async () => {
    const file = join(folder, "out", "night.atom");
    const channel = fileChannel({ file, keepNights: 2 }, ledger, (items) => atomFeed(feedSettings, items));
    for (const night of ["2027-03-19", "2027-03-21", "2027-03-20"]) {
      expect(await channel.deliver(await ready({ night }), never)).toEqual({ kind: "delivered" });
    }
    const before = await readFile(file, "utf8");
    const { title, entries } = parsed(before);
    expect(title).toContain("The light on Ardvane");
    expect(entries.map(({ title: its }) => its)).toEqual([
      "Ardvane Strand, Sunday 21 March 2027, evening",
      "Ardvane Strand, Saturday 20 March 2027, evening",
    ]);
    expect(entries[0]?.link.href).toBe("geo:56.6,-9.4");
    await channel.deliver(await ready({ night: "2027-03-20" }), never);
    expect(await readFile(file, "utf8")).toBe(before);
    expect(await readdir(join(folder, "out"))).toEqual(["night.atom"]);
  });

  it("is written a few times for many places, and misses none", async () => {
    let writings = 0;
    const file = join(folder, "night.atom");
    const channel = fileChannel({ file, keepNights: 2 }, ledger, (items) => {
      writings++;
      return atomFeed(feedSettings, items);
    });
    const entries = await Promise.all(Array.from({ length: 300 }, (_, index) => ready({ placeId: `spot-${index}` })));
    await Promise.all(entries.map((entry) => channel.deliver(entry, never)));
    expect(parsed(await readFile(file, "utf8")).entries).toHaveLength(300);
    expect(writings).toBeLessThan(30);
  });

  it("escapes what a name or a text holds", async () => {
    const { message, messageId: id } = await ready();
    const hostile = '<script>alert("&")</script> ]]> \\ ,;\n';
    const items = [
      { id, updatedMs: 0, message: { ...message, headline: hostile, place: { ...message.place, name: hostile } } },
    ];
    const { entries } = parsed(atomFeed(feedSettings, items));
    expect(entries[0]?.content).toContain("&lt;script&gt;");
    expect(entries[0]?.content).not.toContain("<script>");
    expect(unfolded(calendar("x", items)).find((line) => line.startsWith("SUMMARY"))).toBe(
      `SUMMARY:${titleOf(items[0]?.message as never)
        .replace(/[\\;,]/g, "\\$&")
        .replace("\n", "\\n")}`,
    );
  });

  it("fails, to be tried again, where the folder cannot be written", async () => {
    await writeFileAtomically(join(folder, "blocked"), "a file where a folder should be");
    const channel = fileChannel({ file: join(folder, "blocked", "night.atom"), keepNights: 2 }, ledger, () => "");
    expect((await channel.deliver(await ready(), never)).kind).toBe("failed");
  });

  it.skipIf(!existsSync("/proc/self"))("fails likewise where a folder is there but takes none", async () => {
    const channel = fileChannel({ file: "/proc/ardvane/night.atom", keepNights: 2 }, ledger, () => "");
    expect((await channel.deliver(await ready(), never)).kind).toBe("failed");
  });
});

function unfolded(text: string): string[] {
  return text.replaceAll(/\r\n[ \t]/g, "").split("\r\n");
}

describe("a calendar file", () => {
  it("has an event for each night, as RFC 5545 has it", async () => {
    const nights = [await ready(), await ready({ night: "2027-03-21" })];
    const text = calendar(
      "The light on Ardvane",
      nights.map(({ messageId: id, message }) => ({ id, updatedMs: 0, message })),
    );
    for (const line of text.split("\r\n")) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
    expect(text).not.toMatch(/[^\r]\n/);
    const lines = unfolded(text);
    expect(lines[0]).toBe("BEGIN:VCALENDAR");
    expect(lines).toContain("VERSION:2.0");
    expect(lines.filter((line) => line === "BEGIN:VEVENT")).toHaveLength(2);
    expect(new Set(lines.filter((line) => line.startsWith("UID:"))).size).toBe(2);
    const { arriveBy } = (nights[0] as Awaited<ReturnType<typeof ready>>).message;
    const start = new Date(arriveBy).toISOString().replace(/[-:]|\.\d+/g, "");
    expect(lines).toContain(`DTSTART:${start}`);
    expect(lines).toContain("GEO:56.6;-9.4");
  });
});
