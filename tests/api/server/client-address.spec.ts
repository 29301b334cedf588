import { clientAddressOf } from "@fieldstop/api/server/client-address";
import { describe, expect, it } from "vitest";

describe("the address of a client", () => {
  const address = (proxies: number, peer: string, forwarded?: string) =>
    clientAddressOf(proxies)(
      new Request("http://localhost/", { headers: forwarded === undefined ? {} : { "X-Forwarded-For": forwarded } }),
      { incoming: { socket: { remoteAddress: peer } } },
    );

  it.each([
    [0, "192.0.2.1", "203.0.113.9", "192.0.2.1"],
    [1, "192.0.2.1", "198.51.100.7, 203.0.113.9", "203.0.113.9"],
    [2, "192.0.2.1", "198.51.100.7, 203.0.113.9", "198.51.100.7"],
    [1, "192.0.2.1", undefined, "192.0.2.1"],
    [0, "::ffff:192.0.2.1", undefined, "192.0.2.1"],
    [0, "2001:db8:1:2:3:4:5:6", undefined, "2001:db8:1:2::/64"],
    [0, "2001:db8::6", undefined, "2001:db8:0:0::/64"],
    // with a port, in brackets, or both
    [1, "192.0.2.1", "203.0.113.9:5555", "203.0.113.9"],
    [1, "192.0.2.1", "[2001:db8::1]:443", "2001:db8:0:0::/64"],
    [1, "192.0.2.1", "[2001:db8::1]", "2001:db8:0:0::/64"],
    [1, "192.0.2.1", "2001:db8::1", "2001:db8:0:0::/64"],
    // however it is written
    [1, "192.0.2.1", "2001:0DB8:0001::1", "2001:db8:1:0::/64"],
    [1, "192.0.2.1", "::ffff:203.0.113.9", "203.0.113.9"],
    [1, "192.0.2.1", "[::ffff:203.0.113.9]:443", "203.0.113.9"],
    [1, "192.0.2.1", "::FFFF:cb00:7109", "203.0.113.9"],
    [0, "fe80::1%eth0", undefined, "fe80:0:0:0::/64"],
    // what is no address
    [1, "192.0.2.1", "unknown", "192.0.2.1"],
    [1, "192.0.2.1", "198.51.100.7, ", "192.0.2.1"],
    [1, "192.0.2.1", "203.0.113.9:http", "192.0.2.1"],
    [1, "192.0.2.1", "203.0.113.999", "192.0.2.1"],
    [1, "192.0.2.1", "[203.0.113.9", "192.0.2.1"],
    [1, "::ffff:192.0.2.1", "_hidden", "192.0.2.1"],
  ] as const)("behind %i proxies, from %s by way of %s, is %s", (proxies, peer, forwarded, expected) => {
    expect(address(proxies, peer, forwarded)).toBe(expected);
  });

  it("is one for all ports", () => {
    const addresses = Array.from({ length: 1000 }, (_, port) => address(1, "192.0.2.1", `203.0.113.9:${port}`));
    expect(new Set(addresses)).toEqual(new Set(["203.0.113.9"]));
  });
});
