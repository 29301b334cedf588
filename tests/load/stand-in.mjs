import { createServer } from "node:http";
import { setPriority } from "node:os";
import { isMainThread, Worker, workerData } from "node:worker_threads";

// A bare server that is as long over each request as it is told, beside a thread at the lowest priority that never rests while it is told so: how soon this
// machine lets any server of one event loop answer. It does as much work as it can in that time when it is told, so that where the machine slows down, so
// does it. It tells its port. Messages: time over each request [µs], and whether the thread is busy.

const BODY = "x".repeat(2000);
/** Tries to find how fast it works, of which the fastest counts, and how long each takes [ms]. */
const TRIES = { count: 10, ms: 2 };

if (isMainThread) serve();
else neverRest(workerData);

function serve() {
  const busy = new Int32Array(new SharedArrayBuffer(4));
  new Worker(new URL(import.meta.url), { workerData: busy });
  let steps = 0;
  process.on("message", ({ micros, isBusy }) => {
    steps = (stepsPerMs() * micros) / 1000;
    Atomics.store(busy, 0, isBusy ? 1 : 0);
    Atomics.notify(busy, 0);
  });
  const server = createServer((request, response) => {
    request.on("data", () => {});
    request.on("end", () => {
      work(steps);
      response.writeHead(200, { "content-type": "text/plain", "content-length": BODY.length }).end(BODY);
    });
  }).listen(0, "127.0.0.1", () => process.send(server.address().port));
}

let state = 1;

/** Something that an engine cannot leave out, in steps that take the same time each. */
function work(steps) {
  for (let i = 0; i < steps; i++) state = (Math.imul(state, 1_664_525) + 1_013_904_223) | 0;
}

function stepsPerMs() {
  let most = 0;
  for (let i = 0; i < TRIES.count; i++) {
    let steps = 0;
    const startMs = performance.now();
    for (; performance.now() - startMs < TRIES.ms; steps += 1000) work(1000);
    most = Math.max(most, steps / (performance.now() - startMs));
  }
  return most;
}

function neverRest(busy) {
  if (process.platform === "linux") setPriority(19);
  for (;;) Atomics.wait(busy, 0, 0);
}
