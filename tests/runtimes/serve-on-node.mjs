// The least that hands requests of node:http to a fetch-style app: serve-on-node.mjs MODULE PORT
import { createServer } from "node:http";
import { pathToFileURL } from "node:url";

const [module, port] = process.argv.slice(2);
const { default: app } = await import(pathToFileURL(module).href);
createServer(async (request, response) => {
  const chunks = [];
  for await (const chunk of request) chunks.push(chunk);
  const { method } = request;
  const body = method === "GET" || method === "HEAD" ? undefined : Buffer.concat(chunks);
  const url = `http://${request.headers.host}${request.url}`;
  const answer = await app.fetch(new Request(url, { method, headers: request.headers, body }));
  response.writeHead(answer.status, Object.fromEntries(answer.headers));
  response.end(Buffer.from(await answer.arrayBuffer()));
}).listen(Number(port), "127.0.0.1");
