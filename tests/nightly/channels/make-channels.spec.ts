import { makeChannels } from "@fieldstop/nightly/channels/make-channels";
import { describe, expect, it } from "vitest";
import { SECRET } from "../support/receiver";

const settings = (change: object) => ({
  hook: {
    kind: "webhook",
    url: "https://ardvane.example/n",
    secretEnv: "S",
    timeoutSeconds: 5,
    detail: "summary",
    ...change,
  },
});
const make = (change: object, env: Record<string, string>) =>
  makeChannels(settings(change) as never, { file: "places.yaml", env, ledger: {} as never, print: async () => {} });

describe("secrets", () => {
  it("come from the environment", () => {
    expect([...make({}, { S: SECRET }).keys()]).toEqual(["hook"]);
    expect(make({ detail: "full" }, { S: SECRET }).get("hook")?.full).toBe(true);
  });

  it.each([
    ["the variable is not set", {}, {}, "places.yaml: channels.hook: the environment variable S is not set"],
    ["it holds something else", {}, { S: "hunter2" }, "channels.hook: S holds no webhook secret"],
    ["it is too short", {}, { S: "whsec_c2hvcnQ=" }, "channels.hook: S holds no webhook secret"],
    ["a URL is none", { url: undefined, urlEnv: "U" }, { S: SECRET, U: "ftp://x" }, "U holds no http or https URL"],
  ])("are refused where %s, and never repeated", (_, change, env, expected) => {
    let message = "";
    try {
      make(change, env as Record<string, string>);
    } catch (error) {
      message = (error as Error).message;
    }
    expect(message).toContain(expected);
    expect(message).not.toContain("hunter2");
  });
});
