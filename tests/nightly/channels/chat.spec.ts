import { chatChannel } from "@fieldstop/nightly/channels/chat";
import { afterEach, describe, expect, it } from "vitest";
import { ready } from "../support/ready";
import { Receiver } from "../support/receiver";

const never = new AbortController().signal;
let receiver: Receiver | undefined;
afterEach(() => receiver?.stop());

async function body(text: "plain" | "markdown"): Promise<Record<string, string>> {
  receiver = await Receiver.start();
  const entry = await ready();
  const message = { ...entry.message, place: { ...entry.message.place, name: "The *Ward* [1]" } };
  await chatChannel({ url: receiver.url, text, timeoutMs: 1000 }).deliver({ ...entry, message }, never);
  return JSON.parse([...receiver.taken.values()][0]?.body as string);
}

describe("a chat's webhook", () => {
  it("gets the text, and Markdown beside it", async () => {
    const { text, markdown, ...rest } = await body("plain");
    expect(rest).toEqual({});
    expect(text?.split("\n")[0]).toBe("The *Ward* [1], Saturday 20 March 2027, evening");
    expect(text?.split("\n")[1]).toMatch(/^Direct light /);
    expect(markdown).toMatch(/^\*\*The \\\*Ward\\\* \\\[1\\\], Saturday 20 March 2027, evening\*\*\n\nDirect light /);
    expect(markdown).toContain("\n- ");
    expect(markdown).toContain("> **Caution:** Never look at the sun");
  });

  it("gets Markdown as the text, where it reads it there", async () => {
    const { text, ...rest } = await body("markdown");
    expect(rest).toEqual({});
    expect(text).toMatch(/^\*\*The /);
  });
});
