import { createServer } from "node:http";
import { setPriority } from "node:os";
import { isMainThread, Worker } from "node:worker_threads";

// A bare server that is as long over each request as it is told, beside a thread at the lowest priority that never rests: how soon this machine lets any
// server of one event loop answer. Arguments: port, time over each request [µs].

const BODY = "x".repeat(2000);

if (isMainThread) serve(Number(process.argv[2]), Number(process.argv[3]) / 1000);
else neverRest();

function serve(port, tookMs) {
  new Worker(new URL(import.meta.url));
  createServer((request, response) => {
    request.on("data", () => {});
    request.on("end", () => {
      for (const untilMs = performance.now() + tookMs; performance.now() < untilMs; );
      response.writeHead(200, { "content-type": "text/plain", "content-length": BODY.length }).end(BODY);
    });
  }).listen(port, "127.0.0.1");
}

function neverRest() {
  if (process.platform === "linux") setPriority(19);
  for (;;);
}
