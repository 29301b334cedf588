import type { IncomingMessage } from "node:http";
import { isIPv6 } from "node:net";
import type { Asked } from "../middleware/asked";

/**
 * Whom a request comes from. Behind proxies it is the entry of X-Forwarded-For that the outermost of ours added: entries before that are the
 * caller's to invent. Of an IPv6 address only the network counts, since its holder has all addresses in it.
 */
export function clientAddressOf(trustedProxies: number): (request: Asked, env: object) => string {
  return (request, env) => {
    const { incoming } = env as { incoming?: IncomingMessage };
    const peer = incoming?.socket?.remoteAddress ?? "unknown";
    if (trustedProxies === 0) return network(peer);
    const forwarded = request.headers.get("x-forwarded-for")?.split(",") ?? [];
    return network(forwarded.at(-trustedProxies)?.trim() || peer);
  };
}

const NETWORK_GROUPS = 4;

function network(address: string): string {
  if (!address.includes(":") || !isIPv6(address)) return address;
  if (address.startsWith("::ffff:") && address.includes(".")) return address.slice("::ffff:".length);
  const [head = "", tail = ""] = address.split("::");
  const groups = head === "" ? [] : head.split(":");
  const last = tail === "" ? [] : tail.split(":");
  if (address.includes("::")) while (groups.length + last.length < 8) groups.push("0");
  return `${[...groups, ...last].slice(0, NETWORK_GROUPS).join(":")}::/64`;
}
