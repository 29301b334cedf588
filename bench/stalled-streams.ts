import { connect, type Socket } from "node:net";
import { setTimeout as delay } from "node:timers/promises";
import { ServiceProcess } from "../tests/load/service";

/**
 * What a stream of 300 forecasts costs in memory while its reader reads nothing: the service's resident memory with none, with 16 and with 32 of them, after
 * as many were read to their end, so that heap and threads have grown before. The service cuts such readers off after 15 to 30 s.
 */
const PLACES = 300;
const ROUNDS = 3;
const STREAMS = 32;
/** What one address may have open. */
const PER_CLIENT = 8;
const SETTLE_MS = 9000;

const body = JSON.stringify({
  places: Array.from({ length: PLACES }, (_, i) => ({
    id: `spot-${i}`,
    place: { latitude: 56.55 + 0.002 * (i % 40), longitude: -9.45 + 0.004 * Math.floor(i / 40) },
    date: "2027-03-20",
  })),
});

async function openStream(service: ServiceProcess, index: number): Promise<Socket> {
  const socket = connect(service.address);
  socket.on("error", () => {});
  socket.pause();
  const address = `203.0.113.${1 + Math.floor(index / PER_CLIENT)}`;
  socket.write(
    `POST /v1/forecasts HTTP/1.1\r\nHost: localhost\r\nX-Forwarded-For: ${address}\r\nContent-Type: application/json\r\nContent-Length: ${body.length}\r\n\r\n${body}`,
  );
  return socket;
}

async function readWhole(service: ServiceProcess): Promise<void> {
  const headers = { "Content-Type": "application/json" };
  const response = await fetch(`${service.baseUrl}/v1/forecasts`, { method: "POST", headers, body });
  if (!(await response.text()).endsWith(`"failed":0}\n`)) throw new Error("a stream failed");
}

async function openStreams(service: ServiceProcess): Promise<number> {
  const metrics = await (await fetch(`${service.baseUrl}/metrics`)).text();
  // this question counts as well
  return Number(/^fieldstop_requests_in_flight (\d+)$/m.exec(metrics)?.[1]) - 1;
}

const rows: Record<string, string>[] = [];
for (let round = 0; round < ROUNDS; round++) {
  // without a limit all callers are one, who may have eight
  const limit = String(10 * PLACES * STREAMS);
  const service = await ServiceProcess.start({ FIELDSTOP_TRUSTED_PROXIES: "1", FIELDSTOP_RATE_LIMIT: limit });
  for (let i = 0; i < 8; i++) await readWhole(service);
  await delay(2000);
  const memory = [service.residentMb() ?? Number.NaN];
  const sockets: Socket[] = [];
  for (const count of [STREAMS / 2, STREAMS]) {
    while (sockets.length < count) sockets.push(await openStream(service, sockets.length));
    await delay(SETTLE_MS);
    if ((await openStreams(service)) !== count) throw new Error("a stream was refused, or has ended");
    memory.push(service.residentMb() ?? Number.NaN);
  }
  const cut = sockets.filter((socket) => socket.destroyed).length;
  for (const socket of sockets) socket.destroy();
  await delay(2000);
  const [none = 0, half = 0, all = 0] = memory;
  rows.push({
    "none [MB]": none.toFixed(0),
    [`${STREAMS / 2} [MB]`]: half.toFixed(0),
    [`${STREAMS} [MB]`]: all.toFixed(0),
    "each [MB]": ((all - none) / STREAMS).toFixed(2),
    "each of the second half": ((all - half) / (STREAMS / 2)).toFixed(2),
    "cut off meanwhile": String(cut),
    "after they ended [MB]": (service.residentMb() ?? Number.NaN).toFixed(0),
  });
  await service.stop();
}
console.table(rows);
