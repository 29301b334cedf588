import { operations } from "./contract";
import type { Shot } from "./crowd";

/** What is calculated each time: small answers and large ones, by the examples of the contract. */
const CALCULATED = ["/v1/light-windows", "/v1/filters/select", "/v1/framing/camera-height"];
/** What is kept once it was asked. */
const KEPT = Array.from(
  { length: 100 },
  (_, n) => `/v1/sun?latitude=${56 + n / 100}&longitude=-9.4&instant=2027-03-20T17:00:00Z`,
);

/** How often each calculation comes for one answer that is kept. */
const CALCULATED_FOR_EACH_KEPT = 3;

/** A mix: a tenth is answered from a cache, the rest is calculated, so that it is the service that has the most to do and not who asks. */
export function mixedShots(host: string): Shot[] {
  const bodies = CALCULATED.map((path) => {
    const operation = operations.find((one) => one.path === path && one.method === "POST");
    return (operation?.body?.examples ?? []).map((example) => post(path, JSON.stringify(example), host));
  });
  return KEPT.flatMap((path, i) => {
    const calculated = bodies.map((shots) => shots[i % shots.length] as Shot);
    return [get(path, host), ...Array.from({ length: CALCULATED_FOR_EACH_KEPT }, () => calculated).flat()];
  });
}

const get = (path: string, host: string): Shot => ({
  name: path,
  bytes: Buffer.from(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\n\r\n`),
});

function post(path: string, body: string, host: string): Shot {
  const fields = `Host: ${host}\r\nContent-Type: application/json\r\nContent-Length: ${Buffer.byteLength(body)}`;
  return { name: `${path} ${body}`, bytes: Buffer.from(`POST ${path} HTTP/1.1\r\n${fields}\r\n\r\n${body}`) };
}
