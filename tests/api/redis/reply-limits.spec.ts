import { ReplyLimits } from "@fieldstop/api/redis/reply-limits";
import fc from "fast-check";
import { describe, expect, it } from "vitest";

/** A reply as Redis writes it. */
const { reply } = fc.letrec<{ reply: string }>((tie) => ({
  reply: fc.oneof(
    { depthSize: "small", maxDepth: 6 },
    fc.constantFrom("+OK\r\n", "-ERR unknown command\r\n", "$-1\r\n", "*-1\r\n", "*0\r\n", "$0\r\n\r\n"),
    fc.maxSafeInteger().map((n) => `:${n}\r\n`),
    fc.string({ unit: "binary-ascii", maxLength: 40 }).map((text) => `$${text.length}\r\n${text}\r\n`),
    fc.array(tie("reply"), { maxLength: 4 }).map((members) => `*${members.length}\r\n${members.join("")}`),
  ),
}));

function check(...chunks: readonly (string | Buffer)[]): void {
  const limits = new ReplyLimits();
  for (const chunk of chunks) limits.check(Buffer.from(chunk as string, "latin1"));
}

describe("the limits of replies", () => {
  it("let through what Redis writes, however it is cut", () => {
    fc.assert(
      fc.property(fc.array(reply, { maxLength: 5 }), fc.array(fc.nat(400), { maxLength: 8 }), (replies, cuts) => {
        const text = replies.join("");
        const places = [0, ...cuts.map((cut) => Math.min(cut, text.length)), text.length].sort((a, b) => a - b);
        check(...places.slice(1).map((place, i) => text.slice(places[i], place)));
      }),
    );
  });

  it.each([
    ["arrays in arrays", "*1\r\n".repeat(50_000)],
    ["an array longer than memory", "*4294967296\r\n"],
    ["an array of a hundred million", "*100000000\r\n"],
    ["many long arrays", "*2\r\n*90000\r\n*90000\r\n"],
    ["a string longer than memory", "$99999999999\r\n"],
    ["a string of a gigabyte", "$999999999\r\n"],
    ["a negative length", "$-2\r\n"],
    ["a length that is no number", "$1x\r\n"],
    ["a number that is none", ":1.5\r\n"],
    ["a string longer than it says", "$2\r\nabc\r\n"],
    ["a string shorter than it says", "$4\r\nabc\r\n:1\r\n"],
    ["a line without a carriage return", "+OK\n"],
    ["a line without an end", `+${"x".repeat(5000)}`],
    ["a push of RESP3", ">2\r\n+invalidate\r\n*0\r\n"],
    ["a map of RESP3", "%1\r\n+a\r\n:1\r\n"],
    ["another protocol", "HTTP/1.1 400 Bad Request\r\n\r\n"],
  ])("refuse %s", (_, text) => {
    expect(() => check(text)).toThrow();
    // and byte by byte
    expect(() => check(...(text.length > 6000 ? text.slice(0, 6000) : text))).toThrow();
  });

  it("count for each reply anew", () => {
    const limits = new ReplyLimits();
    const skyline = Buffer.from(`$1000000\r\n${"x".repeat(1_000_000)}\r\n`);
    for (let i = 0; i < 50; i++) limits.check(skyline);
    expect(() => limits.check(Buffer.from("*20\r\n"))).not.toThrow();
    expect(() => {
      for (let i = 0; i < 20; i++) limits.check(skyline);
    }).toThrow(/too large/);
  });
});
