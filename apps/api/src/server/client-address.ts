import type { IncomingMessage } from "node:http";
import { isIP, SocketAddress } from "node:net";

/**
 * Whom a request comes from. Behind proxies it is the entry of X-Forwarded-For that the outermost of ours added: entries before that are the
 * caller's to invent. An entry that is no address counts as none. Of an IPv6 address only the network counts, since its holder has all
 * addresses in it.
 */
export function clientAddressOf(
  trustedProxies: number,
): (request: { readonly headers: Pick<Headers, "get"> }, env: object) => string {
  return (request, env) => {
    const { incoming } = env as { incoming?: IncomingMessage };
    const peer = incoming?.socket?.remoteAddress ?? "unknown";
    const entries = trustedProxies === 0 ? [] : (request.headers.get("x-forwarded-for")?.split(",") ?? []);
    return network(addressIn(entries.at(-trustedProxies) ?? "") ?? addressIn(peer) ?? peer);
  };
}

/** The address of an entry without its port, brackets and zone; undefined where it is none. */
function addressIn(entry: string): string | undefined {
  const text = entry.trim();
  const bare = /^\[([^\]]*)\](?::\d{1,5})?$/.exec(text)?.[1] ?? /^([\d.]+):\d{1,5}$/.exec(text)?.[1] ?? text;
  const address = bare.split("%", 1)[0] as string;
  return isIP(address) === 0 ? undefined : address;
}

const NETWORK_GROUPS = 4;

/** One way of writing for each network: IPv4 as it is, also where it is mapped into IPv6; of IPv6 the /64. */
function network(address: string): string {
  if (isIP(address) !== 6) return address;
  const written = new SocketAddress({ address, family: "ipv6" }).address;
  const mapped = /^::ffff:([\d.]+)$/.exec(written)?.[1];
  if (mapped !== undefined) return mapped;
  const [head = "", tail = ""] = written.split("::");
  const groups = head === "" ? [] : head.split(":");
  const last = tail === "" ? [] : tail.split(":");
  if (written.includes("::")) while (groups.length + last.length < 8) groups.push("0");
  return `${[...groups, ...last].slice(0, NETWORK_GROUPS).join(":")}::/64`;
}
