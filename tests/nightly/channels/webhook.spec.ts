import { webhookChannel } from "@fieldstop/nightly/channels/webhook";
import { Webhook } from "standardwebhooks";
import { afterEach, describe, expect, it } from "vitest";
import { ready } from "../support/ready";
import { MANNERS, type Manner, Receiver, SECRET } from "../support/receiver";

const never = new AbortController().signal;
const servers: Receiver[] = [];
afterEach(async () => {
  await Promise.all(servers.splice(0).map((server) => server.stop()));
});

async function receiver(manner: Manner = "accept"): Promise<Receiver> {
  const server = await Receiver.start(() => manner);
  servers.push(server);
  return server;
}

const channel = (url: string, secrets: readonly string[] = [SECRET]) =>
  webhookChannel({ url, secrets, timeoutMs: 300, full: false });

describe("a signed webhook", () => {
  // Standard Webhooks, reference libraries' common test vector
  it("signs as the specification's example does", () => {
    const signed = new Webhook("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw").sign(
      "msg_p5jXN8AQM9LWM0D4loKWxJek",
      new Date(1_614_265_330_000),
      '{"test": 2432232314}',
    );
    expect(signed).toBe("v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=");
  });

  it("carries id, time and signature, which the receiver verifies", async () => {
    const server = await receiver();
    const entry = await ready();
    expect(await channel(server.url).deliver(entry, never)).toEqual({ kind: "delivered" });
    const [received] = [...server.taken.values()];
    expect(received?.id).toBe(entry.messageId);
    expect(received?.headers["webhook-signature"]).toMatch(/^v1,[A-Za-z0-9+/]{43}=$/);
    expect(server.badSignatures).toBe(0);
    const body = JSON.parse(received?.body as string);
    expect(body).toMatchObject({ type: "forecast.night", data: { date: "2027-03-20", place: { id: "strand" } } });
    expect(body.data.headline).toMatch(/^Direct light /);
    expect(Buffer.byteLength(received?.body as string)).toBeLessThan(20_000);
  });

  it("is refused by a receiver with another secret, or when its body was changed", async () => {
    const server = await receiver();
    await channel(server.url, [`whsec_${Buffer.alloc(32, 7).toString("base64")}`]).deliver(await ready(), never);
    expect(server.badSignatures).toBe(1);
    const [received] = [...server.taken.values()];
    const headers = received?.headers as Record<string, string>;
    expect(() => new Webhook(SECRET).verify(`${received?.body} `, headers)).toThrow();
  });

  it("is signed with the retiring secret, too", async () => {
    const server = await receiver();
    const other = `whsec_${Buffer.alloc(32, 7).toString("base64")}`;
    await channel(server.url, [other, SECRET]).deliver(await ready(), never);
    expect(server.badSignatures).toBe(0);
    expect([...server.taken.values()][0]?.headers["webhook-signature"]?.toString().split(" ")).toHaveLength(2);
  });

  const expected: Record<Manner, object> = {
    accept: { kind: "delivered" },
    "answer-twice": { kind: "delivered" },
    fail: { kind: "failed", reason: "HTTP 500" },
    "ask-to-wait": { kind: "failed", reason: "HTTP 503", retryAfterMs: 1000 },
    hang: { kind: "failed", reason: "no answer within 0.3 s" },
    "hang-after-taking": { kind: "failed", reason: "no answer within 0.3 s" },
    drop: { kind: "failed", reason: "UND_ERR_SOCKET" },
    "drop-after-taking": { kind: "failed", reason: "UND_ERR_SOCKET" },
  };

  it.each(MANNERS)("tells what came of it where the receiver does: %s", async (manner) => {
    const server = await receiver(manner);
    expect(await channel(server.url).deliver(await ready(), never)).toEqual(expected[manner]);
  });

  it("goes on after a receiver that answered twice", async () => {
    const server = await receiver("answer-twice");
    for (let tries = 0; tries < 5; tries++) await channel(server.url).deliver(await ready(), never);
    expect(server.taken.size).toBe(1);
    expect(server.requests).toBeGreaterThanOrEqual(1);
  });

  it("tells that nobody is there", async () => {
    const server = await receiver();
    const { url } = server;
    await server.stop();
    servers.pop();
    expect(await channel(url).deliver(await ready(), never)).toEqual({ kind: "failed", reason: "ECONNREFUSED" });
  });
});
