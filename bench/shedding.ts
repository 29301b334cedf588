import { fork } from "node:child_process";
import { once } from "node:events";
import { createServer, type RequestListener } from "node:http";
import type { AddressInfo } from "node:net";
import { shedFirst } from "@fieldstop/api/server/shed-first";
import { median } from "../tests/median";
import { Crowd } from "../tests/prove/crowd";

/**
 * What it takes to tell a caller to come back: processor time of a server that sheds every request, beside that of a bare one that answers with
 * as many bytes, in turn, each in a process of its own. What is shed takes from what is answered, so that the rate at which nothing could be answered
 * any more follows from it.
 */
const ROUNDS = 3;
const SECONDS = 2;
const CONNECTIONS = [32, 2000];
const BODY = Buffer.alloc(206, "x");

const bare: RequestListener = (_, outgoing) => {
  outgoing.writeHead(503, { "content-type": "text/plain", "content-length": BODY.length });
  outgoing.end(BODY);
};
const { onRequest: shedding } = shedFirst({ mostInFlight: 0, inFlight: () => 0, corsOrigins: [] }, bare);
const LISTENERS = { bare, shedding };

const [name] = process.argv.slice(2);
if (name === "bare" || name === "shedding") serve(LISTENERS[name]);
else await measure();

function serve(listener: RequestListener): void {
  const server = createServer(listener).listen(0, "127.0.0.1", () =>
    process.send?.((server.address() as AddressInfo).port),
  );
  process.on("message", () => process.send?.(process.cpuUsage()));
  process.on("disconnect", () => process.exit());
}

async function measure(): Promise<void> {
  const rows: Record<string, Record<string, string>> = {};
  for (const connections of CONNECTIONS) {
    const micros = { bare: [] as number[], shedding: [] as number[] };
    for (let round = 0; round < ROUNDS; round++) {
      for (const which of ["bare", "shedding"] as const) micros[which].push(await microsPerRequest(which, connections));
    }
    rows[`${connections} connections`] = {
      "shed [µs]": median(micros.shedding).toFixed(1),
      "bare [µs]": median(micros.bare).toFixed(1),
      "of bare": (median(micros.bare) / median(micros.shedding)).toFixed(2),
    };
  }
  console.table(rows);
}

async function microsPerRequest(which: keyof typeof LISTENERS, connections: number): Promise<number> {
  const child = fork(import.meta.filename, [which], { execArgv: process.execArgv });
  const [port] = (await once(child, "message")) as [number];
  const cpu = async (): Promise<number> => {
    child.send("used");
    const [{ user, system }] = (await once(child, "message")) as [NodeJS.CpuUsage];
    return user + system;
  };
  let replies = 0;
  const request = `GET /v1/sun?latitude=56.6&longitude=-9.4 HTTP/1.1\r\nHost: 127.0.0.1:${port}\r\n\r\n`;
  const crowd = new Crowd({
    address: { host: "127.0.0.1", port },
    shots: [{ name: "sun", bytes: Buffer.from(request) }],
    onReply: () => replies++,
  });
  await crowd.gather(connections);
  await crowd.closedLoop(connections, 1);
  const before = await cpu();
  replies = 0;
  await crowd.closedLoop(connections, SECONDS);
  const micros = ((await cpu()) - before) / replies;
  crowd.close();
  child.disconnect();
  return micros;
}
