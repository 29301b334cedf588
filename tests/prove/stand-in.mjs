import { createServer } from "node:http";
import { setPriority } from "node:os";
import { isMainThread, Worker, workerData } from "node:worker_threads";

// A bare server that is as long over each request as it is told, beside a thread at the lowest priority that never rests while it is told so: how soon this
// machine lets any server of one event loop answer. It tells its port. Messages: time over each request [µs], and whether the thread is busy.

const BODY = "x".repeat(2000);

if (isMainThread) serve();
else neverRest(workerData);

function serve() {
  const busy = new Int32Array(new SharedArrayBuffer(4));
  new Worker(new URL(import.meta.url), { workerData: busy });
  let tookMs = 0;
  process.on("message", ({ micros, isBusy }) => {
    tookMs = micros / 1000;
    Atomics.store(busy, 0, isBusy ? 1 : 0);
    Atomics.notify(busy, 0);
  });
  const server = createServer((request, response) => {
    request.on("data", () => {});
    request.on("end", () => {
      for (const untilMs = performance.now() + tookMs; performance.now() < untilMs; );
      response.writeHead(200, { "content-type": "text/plain", "content-length": BODY.length }).end(BODY);
    });
  }).listen(0, "127.0.0.1", () => process.send(server.address().port));
}

function neverRest(busy) {
  if (process.platform === "linux") setPriority(19);
  for (;;) Atomics.wait(busy, 0, 0);
}
