import { type Operation, operations } from "./contract";
import type { Shot } from "./crowd";

/** What is calculated each time in the small mix, by the examples of the contract: small answers and larger ones. */
const SMALL = ["/v1/light-windows", "/v1/filters/select", "/v1/framing/camera-height"];
/** What is kept once it was asked. */
const KEPT = Array.from(
  { length: 100 },
  (_, n) => `/v1/sun?latitude=${56 + n / 100}&longitude=-9.4&instant=2027-03-20T17:00:00Z`,
);
/** How often each of the small ones comes for one answer that is kept. */
const SMALL_FOR_EACH_KEPT = 3;

/** A mix of what is answered within a fraction of a millisecond: a tenth from a cache, the rest calculated. It shows what waits for what. */
export function smallShots(host: string): Shot[] {
  const bodies = SMALL.map((path) =>
    operations.filter((one) => one.path === path && one.method === "POST").flatMap((one) => posts(one, host)),
  );
  return KEPT.flatMap((path, i) => {
    const calculated = bodies.map((shots) => shots[i % shots.length] as Shot);
    return [get(path, host), ...Array.from({ length: SMALL_FOR_EACH_KEPT }, () => calculated).flat()];
  });
}

/** All that is answered in one piece of JSON, by all examples of the contract in turn, and as many answers that are kept. */
export function everyShot(host: string): Shot[] {
  const calculated = operations
    .filter((one) => one.method === "POST" && one.body?.type === "application/json" && answersWithJsonAlone(one))
    .flatMap((one) => posts(one, host));
  return calculated.flatMap((shot, i) => [shot, get(KEPT[i % KEPT.length] as string, host)]);
}

function answersWithJsonAlone({ answers }: Operation): boolean {
  const types = [...(answers.get(200)?.keys() ?? [])];
  return types.length === 1 && types[0] === "application/json";
}

const get = (path: string, host: string): Shot => ({
  name: path,
  bytes: Buffer.from(`GET ${path} HTTP/1.1\r\nHost: ${host}\r\n\r\n`),
});

function posts({ path, body }: Operation, host: string): Shot[] {
  return (body?.examples ?? []).map((example) => {
    const text = JSON.stringify(example);
    const fields = `Host: ${host}\r\nContent-Type: application/json\r\nContent-Length: ${Buffer.byteLength(text)}`;
    return { name: `${path} ${text}`, bytes: Buffer.from(`POST ${path} HTTP/1.1\r\n${fields}\r\n\r\n${text}`) };
  });
}
