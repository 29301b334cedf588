import { FormMemory } from "@fieldstop/api/photos/form-memory";
import { type FormLimits, readForm } from "@fieldstop/api/photos/read-form";
import fc from "fast-check";
import { afterEach, beforeEach, describe, expect, it, vi } from "vitest";

const TYPE = "multipart/form-data; boundary=ardvane";
const LIMITS: FormLimits = { bytes: 1e6, parts: 8 };

function inPieces(bytes: Uint8Array, size: number): ReadableStream<Uint8Array> {
  let at = 0;
  return new ReadableStream({
    pull: (controller) => {
      if (at < bytes.length) controller.enqueue(bytes.slice(at, at + size));
      else controller.close();
      at += size;
    },
  });
}

const read = (text: string | Uint8Array, size = 7, limits = LIMITS, type = TYPE) =>
  readForm(inPieces(typeof text === "string" ? new TextEncoder().encode(text) : text, size), type, limits);

const WHOLE = [
  "--ardvane\r\n",
  'Content-Disposition: form-data; name="note"\r\n\r\nÀ line\r\n--ardvan\r\n',
  '\r\n--ardvane\r\ncontent-disposition: form-data; filename="a%22b.jpg"; name=photos\r\nContent-Type: image/jpeg\r\n\r\n',
  "\r\n--ardvane\r\n",
  'Content-Disposition: form-data; name="empty"\r\n\r\n\r\n--ardvane--\r\nan epilogue',
].join("");

describe("a form as it comes", () => {
  it.each([1, 2, 3, 7, 64, 10_000])("reads the same in pieces of %i bytes", async (size) => {
    const form = await read(WHOLE, size);
    expect(Object.keys(form)).toEqual(["note", "photos", "empty"]);
    expect(form["note"]).toBe("À line\r\n--ardvan\r\n");
    expect(form["empty"]).toBe("");
    const file = form["photos"] as File;
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
          [form["photos"] ?? []].flat().map(async (file) => [...new Uint8Array(await (file as File).arrayBuffer())]),
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

describe("a form that comes slowly", () => {
  beforeEach(() => void vi.useFakeTimers({ toFake: ["setTimeout", "setInterval", "clearTimeout", "clearInterval"] }));
  afterEach(() => void vi.useRealTimers());

  const LARGE: FormLimits = { bytes: 1e9, parts: 8 };
  const HEAD = '--ardvane\r\nContent-Disposition: form-data; name="photos"; filename="a"\r\n\r\n';

  /** A file at so many bytes a second, which never ends; tells when the form was given up. */
  async function sent(bytesPerSecond: (second: number) => number, signal?: AbortSignal) {
    let controller: ReadableStreamDefaultController<Uint8Array> | undefined;
    const body = new ReadableStream<Uint8Array>({
      start: (given) => {
        controller = given;
      },
    });
    let second = 0;
    const outcome = readForm(body, TYPE, LARGE, signal).then(
      () => ({ second, key: "read" }),
      (error: { key?: string }) => ({ second, key: error.key ?? String(error) }),
    );
    controller?.enqueue(new TextEncoder().encode(HEAD));
    const settled = outcome.then(() => true);
    for (; second < 300; second++) {
      controller?.enqueue(new Uint8Array(bytesPerSecond(second)));
      // what came is read before the clock goes on
      await new Promise((resolve) => setImmediate(resolve));
      await vi.advanceTimersByTimeAsync(1000);
      if (await Promise.race([settled, new Promise((resolve) => setImmediate(resolve, false))])) break;
    }
    return outcome;
  }

  it.each([
    ["a byte every 20 s", (second: number) => (second % 20 === 0 ? 1 : 0), 9],
    ["31 kB/s", () => 31_000, 9],
    ["a fast start and then nothing", (second: number) => (second < 4 ? 2_000_000 : 0), 19],
    ["33 kB/s, for as long as any may take", () => 33_000, 119],
  ])("is cut off: %s", async (_, bytesPerSecond, second) => {
    expect(await sent(bytesPerSecond)).toEqual({ second, key: "request-timeout" });
  });

  it("is given up when nobody waits for its answer any more", async () => {
    const reason = new Error("the caller hung up");
    const control = new AbortController();
    setTimeout(() => control.abort(reason), 3500);
    expect(await sent(() => 50_000, control.signal)).toEqual({ second: 3, key: String(reason) });
  });

  it("leaves no timer behind", async () => {
    vi.useRealTimers();
    vi.useFakeTimers({ toFake: ["setTimeout", "setInterval", "clearTimeout", "clearInterval"] });
    await read(WHOLE, 64);
    expect(vi.getTimerCount()).toBe(0);
  });
});

describe("the memory of all forms", () => {
  it("is bounded over callers, and free again when their forms are answered", () => {
    const memory = new FormMemory(100);
    const [first, second] = [memory.share(), memory.share()];
    first.take(60);
    second.take(40);
    expect(() => second.take(1)).toThrow(expect.objectContaining({ key: "unavailable" }));
    first.release();
    first.release();
    second.take(60);
    expect(() => second.take(1)).toThrow();
  });

  it("counts what comes before it is held", async () => {
    const share = new FormMemory(150).share();
    await expect(read(WHOLE, 50, { ...LIMITS, take: share.take })).rejects.toMatchObject({
      key: "unavailable",
      details: { headers: { "Retry-After": "5" } },
    });
  });
});

describe("hostile forms", () => {
  const SIZE = 20_000_000;
  const file = (content: Uint8Array): Uint8Array =>
    Buffer.concat([
      Buffer.from('--ardvane\r\nContent-Disposition: form-data; name="photos"; filename="a"\r\n\r\n'),
      content,
      Buffer.from("\r\n--ardvane--"),
    ]);
  const CPU_MS = async (content: Uint8Array): Promise<number> => {
    const body = file(content);
    const before = process.cpuUsage();
    const form = await read(body, 65_536, { bytes: 1e9, parts: 8 });
    const { user, system } = process.cpuUsage(before);
    expect((form["photos"] as File).size).toBe(content.length);
    return (user + system) / 1000;
  };

  it.each([
    ["carriage returns", "\r"],
    ["line feeds", "\n"],
    ["dashes", "-"],
    ["line ends and dashes", "\r\n--"],
    ["boundaries that lack their last letter", "\r\n--ardvan"],
  ])("of %s cost about as much as plain ones", async (_, pattern) => {
    const best = async (content: Uint8Array): Promise<number> =>
      Math.min(await CPU_MS(content), await CPU_MS(content), await CPU_MS(content));
    const plain = await best(Buffer.alloc(SIZE, "x"));
    const hostile = await best(Buffer.alloc(SIZE, pattern));
    // four times, and what a busy machine adds; the form of carriage returns took sixteen
    expect(hostile).toBeLessThan(4 * plain + 60);
  });

  it("are refused at their first part too many, header too large, and byte too many", async () => {
    let pulled = 0;
    const endless = (piece: string) =>
      new ReadableStream<Uint8Array>({
        pull: (controller) => {
          pulled += piece.length;
          controller.enqueue(new TextEncoder().encode(piece));
        },
      });
    const part = '--ardvane\r\nContent-Disposition: form-data; name="photos"\r\n\r\nx\r\n';
    const limits = { bytes: 1e7, parts: 8 };
    for (const [piece, key, mostBytes] of [
      [part.repeat(20), "body-too-large", 300_000],
      [`--ardvane\r\n${"X: y\r\n".repeat(200)}`, "malformed-request", 300_000],
      ["\r\n".repeat(999), "malformed-request", 300_000],
    ] as const) {
      pulled = 0;
      await expect(readForm(endless(piece), TYPE, limits)).rejects.toMatchObject({ key });
      expect(pulled).toBeLessThan(mostBytes);
    }
  });

  it("have names as they are, whatever object they would reach", async () => {
    const part = (name: string, value: string) =>
      `--ardvane\r\nContent-Disposition: form-data; name="${name}"\r\n\r\n${value}\r\n`;
    const form = await read(
      `${part("__proto__", "a")}${part("constructor", "b")}${part("x", "1")}${part("x", "2")}${part("x", "3")}--ardvane--`,
    );
    expect(Object.entries(form)).toEqual([
      ["__proto__", "a"],
      ["constructor", "b"],
      ["x", ["1", "2", "3"]],
    ]);
    expect(({} as Record<string, unknown>)["a"]).toBeUndefined();
  });

  it.each([
    ["bytes that are no UTF-8 in a header", Buffer.from('name="\xff"', "latin1")],
    ["a file name in a charset that is not known", Buffer.from("name=\"a\"; filename*=klingon''a.jpg")],
    ["a file name with a line separator", Buffer.from('name="a"; filename="strand\u2028.jpg"')],
    ["a name that is not closed", Buffer.from('name="a"; filename="strand.jpg')],
    ["another disposition", Buffer.from('name="a"', "latin1"), "attachment"],
  ])("are refused: %s", async (_, parameters, disposition = "form-data") => {
    const warned = vi.spyOn(console, "warn");
    const body = Buffer.concat([
      Buffer.from(`--ardvane\r\nContent-Disposition: ${disposition}; `),
      parameters,
      Buffer.from("\r\n\r\nx\r\n--ardvane--"),
    ]);
    await expect(read(body)).rejects.toMatchObject({ key: "malformed-request" });
    expect(warned).not.toHaveBeenCalled();
  });

  it("pass over what follows the last boundary, however much of it there is", async () => {
    const form = await read(`${WHOLE}${"\r\n".repeat(100_000)}`, 1000);
    expect(form["empty"]).toBe("");
  });
});
