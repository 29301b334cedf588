import { readForm } from "@fieldstop/api/middleware/multipart";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

const TYPE = "multipart/form-data; boundary=ardvane";
const LIMITS = { bytes: 1e6, parts: 8 };

async function* inPieces(bytes: Uint8Array<ArrayBuffer>, size: number): AsyncGenerator<Uint8Array<ArrayBuffer>> {
  for (let at = 0; at < bytes.length; at += size) yield bytes.slice(at, at + size);
}

const read = (text: string, size = 7, limits = LIMITS, type = TYPE) =>
  readForm(inPieces(new TextEncoder().encode(text), size), type, limits);

const WHOLE = [
  "a preamble to pass over\r\n--ardvane\r\n",
  'Content-Disposition: form-data; name="note"\r\n\r\nÀ line\r\n--ardvan\r\n',
  '\r\n--ardvane  \r\ncontent-disposition: form-data; filename="a%22b.jpg"; name=photos\r\nContent-Type: image/jpeg\r\n\r\n',
  "\r\n--ardvane\r\n",
  'Content-Disposition: form-data; name="empty"\r\n\r\n\r\n--ardvane--\r\nan epilogue',
].join("");

describe("a form as it comes", () => {
  it.each([1, 2, 3, 7, 64, 10_000])("reads the same in pieces of %i bytes", async (size) => {
    const form = await read(WHOLE, size);
    expect([...form.keys()]).toEqual(["note", "photos", "empty"]);
    expect(form.get("note")).toBe("À line\r\n--ardvan\r\n");
    expect(form.get("empty")).toBe("");
    const file = form.get("photos") as File;
    expect([file.name, file.type, file.size]).toEqual(['a"b.jpg', "image/jpeg", 0]);
  });

  it("reads what the platform writes, byte for byte", async () => {
    // bytes of which the delimiter is made come often
    const byte = fc.oneof(fc.constantFrom(13, 10, 45), fc.integer({ min: 0, max: 255 }));
    const files = fc.array(fc.array(byte, { maxLength: 300 }), { minLength: 1, maxLength: 4 });
    await fc.assert(
      fc.asyncProperty(files, fc.integer({ min: 1, max: 400 }), async (contents, size) => {
        const sent = new FormData();
        for (const [i, content] of contents.entries()) {
          sent.append("photos", new File([new Uint8Array(content)], `${i}.jpg`));
        }
        const encoded = new Response(sent);
        const type = encoded.headers.get("Content-Type") as string;
        const form = await readForm(inPieces(new Uint8Array(await encoded.arrayBuffer()), size), type, LIMITS);
        const received = await Promise.all(
          form.getAll("photos").map(async (file) => [...new Uint8Array(await (file as File).arrayBuffer())]),
        );
        expect(received).toEqual(contents);
      }),
      { numRuns: 60 },
    );
  });

  it.each([
    ["one that ends early", WHOLE.slice(0, -20), TYPE],
    ["one without a boundary in its type", WHOLE, "multipart/form-data"],
    ["one with another boundary", WHOLE, "multipart/form-data; boundary=strand"],
    ["a part without a name", "--ardvane\r\nContent-Disposition: form-data\r\n\r\nx\r\n--ardvane--", TYPE],
    ["a part without a header", "--ardvane\r\n\r\nx\r\n--ardvane--", TYPE],
    ["a header without an end", `--ardvane\r\nX: ${"x".repeat(20_000)}\r\n\r\nx\r\n--ardvane--`, TYPE],
  ])("refuses %s", async (_, text, type) => {
    await expect(read(text, 1000, LIMITS, type)).rejects.toMatchObject({ key: "malformed-request" });
  });

  it("refuses too many bytes, too many parts and too long a text", async () => {
    await expect(read(WHOLE, 7, { bytes: 100, parts: 8 })).rejects.toMatchObject({ key: "body-too-large" });
    await expect(read(WHOLE, 7, { bytes: 1e6, parts: 2 })).rejects.toMatchObject({ key: "body-too-large" });
    const long = `--ardvane\r\nContent-Disposition: form-data; name="note"\r\n\r\n${"x".repeat(262_145)}\r\n--ardvane--`;
    await expect(read(long, 65_536)).rejects.toMatchObject({ key: "body-too-large" });
  });
});
