import { gzipSync } from "node:zlib";
import type { RawRequest } from "./exchange";

/** One thing that no honest caller sends, byte for byte. */
export interface HostileRequest extends RawRequest {
  readonly name: string;
}

const HOST = "Host: fieldstop.example";
const GET_SUN = "/v1/sun?latitude=56.6&longitude=-9.4";
const SOLVE = "/v1/exposures/solve";
const LONG_AGO = "1".repeat(30);

function get(path: string, ...headers: string[]): string {
  return `${[`GET ${path} HTTP/1.1`, HOST, ...headers].join("\r\n")}\r\n\r\n`;
}

function post(path: string, body: string | Buffer, type = "application/json", ...headers: string[]): Buffer {
  const bytes = Buffer.from(body);
  const head = [`POST ${path} HTTP/1.1`, HOST, `Content-Type: ${type}`, `Content-Length: ${bytes.length}`, ...headers];
  return Buffer.concat([Buffer.from(`${head.join("\r\n")}\r\n\r\n`), bytes]);
}

function chunked(path: string, body: string): string {
  const head = [`POST ${path} HTTP/1.1`, HOST, "Content-Type: application/json", "Transfer-Encoding: chunked"];
  return `${head.join("\r\n")}\r\n\r\n${body}`;
}

const one = (name: string, ...writes: RawRequest["writes"]): HostileRequest => ({ name, writes });
const cut = (name: string, ...writes: RawRequest["writes"]): HostileRequest => ({ name, writes, cut: true });

const json = (name: string, body: string | Buffer, path = SOLVE): HostileRequest => one(name, post(path, body));
const good = '{"ev100":12,"aperture":8,"iso":100}';
const deep = (open: string, shut: string, depth: number): string => open.repeat(depth) + shut.repeat(depth);

const documents: readonly HostileRequest[] = [
  json("arrays nested 100,000 deep", deep("[", "]", 100_000)),
  json("objects nested 30,000 deep", `${'{"a":'.repeat(30_000)}1${"}".repeat(30_000)}`),
  json("a field nested 60,000 deep", `{"ev100":${deep("[", "]", 60_000)},"aperture":8,"iso":100}`),
  json("an unknown field nested 60,000 deep", `{"ev100":12,"aperture":8,"iso":100,"more":${deep("[", "]", 60_000)}}`),
  json("a field of objects nested 20,000 deep", `{"ev100":${'{"a":'.repeat(20_000)}1${"}".repeat(20_000)}}`),
  json(
    "an enum field nested 60,000 deep",
    `{"place":${deep("[", "]", 60_000)},"date":"2027-03-20"}`,
    "/v1/light-windows",
  ),
  json("unclosed arrays", "[".repeat(200_000)),
  json("a number beyond all numbers", '{"ev100":1e999,"aperture":8,"iso":100}'),
  json("a number of 100,000 digits", `{"ev100":${"9".repeat(100_000)},"aperture":8,"iso":100}`),
  json("a number with 100,000 decimal places", `{"ev100":1.${"3".repeat(100_000)},"aperture":8,"iso":100}`),
  json("a number too small", '{"ev100":12,"aperture":1e-400,"iso":100}'),
  json("minus zero", '{"ev100":-0,"aperture":8,"iso":-0}'),
  json("NaN, bare", '{"ev100":NaN,"aperture":8,"iso":100}'),
  json("Infinity, bare", '{"ev100":Infinity,"aperture":8,"iso":100}'),
  json("duplicate keys", '{"ev100":12,"ev100":"x","ev100":12,"aperture":8,"aperture":8,"iso":100}'),
  json("20,000 unknown keys", `{${Array.from({ length: 20_000 }, (_, i) => `"k${i}":1`).join(",")}}`),
  json("a key of 200,000 characters", `{"${"k".repeat(200_000)}":1}`),
  json("__proto__ as a field", '{"__proto__":{"ev100":12,"aperture":8,"iso":100}}'),
  json("__proto__ beside the fields", '{"ev100":12,"aperture":8,"iso":100,"__proto__":{"polluted":true}}'),
  json("constructor.prototype", '{"constructor":{"prototype":{"polluted":true}},"ev100":12}'),
  json("toString and hasOwnProperty", '{"toString":1,"hasOwnProperty":1,"valueOf":1,"ev100":12}'),
  json("__proto__ in a list", '{"filters":[{"__proto__":{"kind":"nd"},"stops":6}]}', "/v1/filters/stack"),
  json(
    "a list of 60,000 entries",
    `{"filters":[${Array(60_000).fill("{}").join(",")}]}`.slice(0, 262_000),
    "/v1/filters/stack",
  ),
  json("10,000 filters", `{"filters":[${Array(10_000).fill('{"kind":"polarizer"}').join(",")}]}`, "/v1/filters/stack"),
  json(
    "a profile of 9,000 points",
    `{"place":{"latitude":1,"longitude":1},"date":"2027-03-20","horizon":{"kind":"profile","points":[${Array.from({ length: 9000 }, (_, i) => `{"azimuthDeg":${i / 25},"altitudeDeg":1}`).join(",")}]}}`,
    "/v1/light-windows",
  ),
  json(
    "histograms of 30,000 bins",
    `{"frames":[{"biasStops":0,"coding":"srgb","histogram":{"red":[${Array(30_000).fill(1).join(",")}],"green":[1],"blue":[1]}}]}`,
    "/v1/brackets/review",
  ),
  json(
    "histograms of the greatest numbers",
    `{"frames":[{"biasStops":0,"coding":"srgb","histogram":{"red":[${Array(256).fill("1.7e308").join(",")}],"green":[${Array(256).fill("1.7e308").join(",")}],"blue":[${Array(256).fill("1.7e308").join(",")}]}}]}`,
    "/v1/brackets/review",
  ),
  json("nothing", ""),
  json("white space", " \r\n\t"),
  json("null", "null"),
  json("a string", '"ev100"'),
  json("a number", "12"),
  json("two documents", `${good}${good}`),
  json("trailing comma", '{"ev100":12,}'),
  json("comments", '{"ev100":12/* bright */}'),
  json(
    "a null byte in a string",
    '{"place":{"latitude":1,"longitude":1,"name":"a\\u0000b"},"date":"2027-03-20"}',
    "/v1/light-windows",
  ),
  json("a raw null byte", '{"ev100":\u000012}'),
  json(
    "lone surrogates",
    '{"place":{"latitude":1,"longitude":1,"name":"\\ud800\\udbff"},"date":"2027-03-20"}',
    "/v1/light-windows",
  ),
  json(
    "bytes that are not UTF-8",
    Buffer.concat([Buffer.from('{"ev100":"'), Buffer.from([0xff, 0xfe, 0xc0, 0x80]), Buffer.from('"}')]),
  ),
  json("a byte order mark", `\ufeff${good}`),
  json("UTF-16", Buffer.from(`\ufeff${good}`, "utf16le")),
  json(
    "latin-1",
    Buffer.from('{"place":{"latitude":1,"longitude":1,"name":"Strandh\u00fcgel"},"date":"2027-03-20"}', "latin1"),
    "/v1/light-windows",
  ),
  json(
    "a right-to-left override as a zone",
    '{"place":{"latitude":1,"longitude":1,"timeZone":"\\u202eUTC"},"date":"2027-03-20"}',
    "/v1/light-windows",
  ),
  json(
    "a zone of 100,000 characters",
    `{"place":{"latitude":1,"longitude":1,"timeZone":"${"A/".repeat(50_000)}"},"date":"2027-03-20"}`,
    "/v1/light-windows",
  ),
  json(
    "a path as a tide station",
    `{"place":{"latitude":1,"longitude":1},"date":"2027-03-20","session":"evening","camera":{"sensor":"full-frame","focalLengthMm":24,"aperture":11,"iso":100,"azimuthDeg":290},"tideStation":"../../package.json"}`,
    "/v1/outings/plan",
  ),
  one("300 kB announced", post(SOLVE, `{"ev100":"${"x".repeat(300_000)}"}`)),
  one("300 kB in chunks", chunked(SOLVE, `${(300_000).toString(16)}\r\n${" ".repeat(300_000)}\r\n0\r\n\r\n`)),
  one("compressed without a word", post(SOLVE, gzipSync(good))),
  one("compressed, as it says", post(SOLVE, gzipSync(good), "application/json", "Content-Encoding: gzip")),
  one(
    "10 MB of nothing, compressed",
    post(SOLVE, gzipSync(Buffer.alloc(10_000_000)), "application/json", "Content-Encoding: gzip"),
  ),
  one("an unknown charset", post(SOLVE, good, "application/json; charset=klingon")),
];

const types: readonly HostileRequest[] = [
  "",
  "text/plain",
  "application/xml",
  "application/x-www-form-urlencoded",
  "multipart/form-data",
  "application/jsonx",
  "application/json,text/plain",
  "*/*",
  ";;;",
  "application/json\t;\tq",
  `application/json; ${"a=b; ".repeat(2000)}`,
].map((type) => one(`Content-Type ${type.slice(0, 40) || "empty"}`, post(SOLVE, good, type)));

const PHOTOS = "/v1/brackets/review-photos";
const form = (name: string, body: string | Buffer, type = "multipart/form-data; boundary=b") =>
  one(name, post(PHOTOS, body, type));
const part = (head: string, body: string): string => `--b\r\n${head}\r\n\r\n${body}\r\n`;
const photo = part('Content-Disposition: form-data; name="photos"; filename="a.png"', "\x89PNG\r\n\x1a\n");

const forms: readonly HostileRequest[] = [
  form("a form without a boundary", `${photo}--b--\r\n`, "multipart/form-data"),
  form("a form with a boundary of 300 characters", photo, `multipart/form-data; boundary=${"b".repeat(300)}`),
  form("a form with another boundary", `${photo}--b--\r\n`, "multipart/form-data; boundary=c"),
  form("a form that never ends", photo),
  form("an empty form", "--b--\r\n"),
  form("not a form at all", "\u0000".repeat(1000)),
  form("10,000 parts", `${part('Content-Disposition: form-data; name="a"', "1").repeat(3000)}--b--\r\n`),
  form("a part without a name", `${part("Content-Disposition: form-data", "1")}--b--\r\n`),
  form("a part named __proto__", `${part('Content-Disposition: form-data; name="__proto__"', '{"a":1}')}--b--\r\n`),
  form(
    "a part named __proto__.x[constructor]",
    `${part('Content-Disposition: form-data; name="__proto__.x[constructor]"', "1")}${photo}--b--\r\n`,
  ),
  form(
    "a header of 100 kB in a part",
    `${part(`Content-Disposition: form-data; name="a"\r\nX: ${"y".repeat(100_000)}`, "1")}--b--\r\n`,
  ),
  form(
    "a file named ../../etc/passwd",
    `${part('Content-Disposition: form-data; name="photos"; filename="../../etc/passwd"', "root")}--b--\r\n`,
  ),
  form(
    "a picture of nothing",
    `${part('Content-Disposition: form-data; name="photos"; filename="a.svg"', "<svg xmlns='http://www.w3.org/2000/svg'><image href='file:///etc/passwd'/></svg>")}--b--\r\n`,
  ),
  form("16 files", `${photo.repeat(16)}--b--\r\n`),
];

const paths: readonly HostileRequest[] = [
  "/v1/../../etc/passwd",
  "/docs/..%2f..%2fpackage.json",
  "/docs/%2e%2e/%2e%2e/package.json",
  "/docs/constructor",
  "/problems/constructor",
  "/problems/__proto__",
  "/v1/reference/__proto__",
  "/v1/reference/constructor",
  "/v1/reference/%00",
  "/v1/reference/%E0%A4%A",
  "/v1/reference/%",
  "/v1/reference/..%2f..%2f..%2fetc%2fpasswd",
  "//evil.example/v1/sun",
  "/v1//sun",
  "/v1/sun/",
  "/V1/SUN",
  "/v1/sun;jsessionid=1",
  "/v1/sun%20",
  "/v1/sun%00",
  "/v1/sun#fragment",
  "/v1/sun\\..\\x",
  "/\u00e9",
  "/v1/sun.svg",
  "/v1/horizon.svg.svg",
  "/v1/tides?station=../../etc/passwd",
  "/v1/tides?station=__proto__",
  "/v1/tides?station=constructor&date=2027-03-20",
  "http://169.254.169.254/latest/meta-data/",
  "http://evil.example/v1/sun?latitude=1&longitude=1",
  "*",
  "?",
  "/?",
  "/v1/*",
  "/v1/:table",
].map((path) => one(`GET ${path}`, get(path)));

const queries: readonly HostileRequest[] = [
  "latitude=1&latitude=2&longitude=3",
  "latitude[]=1&longitude=1",
  "latitude=NaN&longitude=1",
  "latitude=Infinity&longitude=1",
  "latitude=1e999&longitude=1",
  "latitude=0x10&longitude=1",
  "latitude=%00&longitude=1",
  "latitude=%E0%A4%A&longitude=%",
  "latitude=&longitude=",
  "latitude=1&longitude=1&__proto__=1",
  "latitude=1&longitude=1&constructor[prototype][a]=1",
  "latitude=١&longitude=١",
  "latitude=1,5&longitude=1",
  "latitude=+1&longitude=%2B1",
  "latitude=1&longitude=1&instant=%F0%9F%92%A5",
  `latitude=1&longitude=1&instant=${"9".repeat(3000)}`,
  `latitude=${LONG_AGO}&longitude=1`,
  `latitude=1.${"0".repeat(5000)}1&longitude=1`,
  "&&&&====&&&",
  "a".repeat(10_000),
  `${"a=1&".repeat(3000)}b`,
].map((query) => one(`query ${query.slice(0, 50)}`, get(`/v1/sun?${query}`)));

const headers: readonly HostileRequest[] = [
  one("a query of 1 MB", get(`/v1/sun?latitude=${"1".repeat(1_000_000)}&longitude=1`)),
  one("a path of 1 MB", get(`/${"a".repeat(1_000_000)}`)),
  one("a header of 1 MB", get(GET_SUN, `X-Long: ${"a".repeat(1_000_000)}`)),
  one("a header of 15 kB", get(GET_SUN, `X-Long: ${"a".repeat(15_000)}`)),
  one("1,900 headers", get(GET_SUN, ...Array.from({ length: 1900 }, (_, i) => `a${i}:1`))),
  one("20,000 headers", get(GET_SUN, ...Array.from({ length: 20_000 }, (_, i) => `a${i}:1`))),
  one("a header with a null byte", get(GET_SUN, "X-A: a\u0000b")),
  one("a header without a colon", get(GET_SUN, "nonsense")),
  one("a header folded over lines", get(GET_SUN, "X-A: a\r\n b")),
  one("a space before the colon", get(GET_SUN, "X-A : a")),
  one("no Host", `GET ${GET_SUN} HTTP/1.1\r\n\r\n`),
  one("two Hosts", get(GET_SUN, "Host: other.example")),
  one("a Host that is none", `GET ${GET_SUN} HTTP/1.1\r\nHost: a b<c>:99999999\r\n\r\n`),
  one("a Host with a path", `GET ${GET_SUN} HTTP/1.1\r\nHost: evil.example/v1/../x?y#z\r\n\r\n`),
  one("a Host of brackets", `GET ${GET_SUN} HTTP/1.1\r\nHost: [::1\r\n\r\n`),
  one("an empty Host", `GET ${GET_SUN} HTTP/1.1\r\nHost:\r\n\r\n`),
  one("HTTP/1.0", `GET ${GET_SUN} HTTP/1.0\r\n\r\n`),
  one("HTTP/0.9", "GET /v1/sun\r\n"),
  one("HTTP/9.9", `GET ${GET_SUN} HTTP/9.9\r\n${HOST}\r\n\r\n`),
  one("a method that is none", `BREW ${GET_SUN} HTTP/1.1\r\n${HOST}\r\n\r\n`),
  one("a method in small letters", `get ${GET_SUN} HTTP/1.1\r\n${HOST}\r\n\r\n`),
  one("CONNECT", "CONNECT evil.example:443 HTTP/1.1\r\nHost: evil.example:443\r\n\r\n"),
  one("TRACE", `TRACE ${GET_SUN} HTTP/1.1\r\n${HOST}\r\n\r\n`),
  one("OPTIONS *", `OPTIONS * HTTP/1.1\r\n${HOST}\r\n\r\n`),
  one("PUT with a body", `PUT ${GET_SUN} HTTP/1.1\r\n${HOST}\r\nContent-Length: 2\r\n\r\n{}`),
  one("GET with a body", `GET ${GET_SUN} HTTP/1.1\r\n${HOST}\r\nContent-Length: 2\r\n\r\n{}`),
  one("HEAD", `HEAD ${GET_SUN} HTTP/1.1\r\n${HOST}\r\n\r\n`),
  one(
    "an upgrade to websocket",
    get(
      GET_SUN,
      "Connection: Upgrade",
      "Upgrade: websocket",
      "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==",
      "Sec-WebSocket-Version: 13",
    ),
  ),
  one(
    "an upgrade to h2c",
    get(GET_SUN, "Connection: Upgrade, HTTP2-Settings", "Upgrade: h2c", "HTTP2-Settings: AAMAAABkAAQAAP__"),
  ),
  one("HTTP/2 in the clear", "PRI * HTTP/2.0\r\n\r\nSM\r\n\r\n"),
  one("TLS", Buffer.from("16030100a5010000a10303", "hex")),
  one("an expectation nobody meets", get(GET_SUN, "Expect: 200-maybe")),
  one("If-None-Match without end", get(GET_SUN, `If-None-Match: ${'"a", '.repeat(2500)}`)),
  one("If-Modified-Since of never", get(GET_SUN, "If-Modified-Since: Thu, 99 Foo 99999 99:99:99 GMT")),
  one("a Range of everything", get(GET_SUN, "Range: bytes=0-,0-,0-,0-,0-")),
  one("Accept without sense", get(GET_SUN, "Accept: ,;q=,*/*;q=NaN,/,a/;q=2")),
  one("Accept-Encoding without sense", get(GET_SUN, "Accept-Encoding: gzip;q=x,,br;;,zstd")),
  one("X-Request-Id without end", get(GET_SUN, `X-Request-Id: ${"<>".repeat(4000)}`)),
  one(
    "traceparent without sense",
    get(GET_SUN, `traceparent: 00-${"0".repeat(32)}-${"0".repeat(16)}-ff`, "tracestate: ,=,="),
  ),
  one("Authorization without end", get(GET_SUN, `Authorization: Bearer ${"k".repeat(10_000)}`)),
  one("Origin without sense", get(GET_SUN, "Origin: javascript:alert(1)")),
  one(
    "a thousand who forwarded it",
    get(GET_SUN, `X-Forwarded-For: ${"1.2.3.4, ".repeat(1000)}x`, 'Forwarded: for="_;by="'),
  ),
];

const framing: readonly HostileRequest[] = [
  one("a chunk longer than it says", chunked(SOLVE, `5\r\n${good}\r\n0\r\n\r\n`)),
  cut("a chunk shorter than it says", chunked(SOLVE, `fff\r\n${good}\r\n0\r\n\r\n`)),
  one("a chunk length that is none", chunked(SOLVE, `zz\r\n${good}\r\n0\r\n\r\n`)),
  one("a negative chunk length", chunked(SOLVE, `-1\r\n${good}\r\n0\r\n\r\n`)),
  one("a chunk length beyond all", chunked(SOLVE, `ffffffffffffffffffff\r\n${good}\r\n`)),
  one("chunk extensions without end", chunked(SOLVE, `23;${"x".repeat(20_000)}\r\n${good}\r\n0\r\n\r\n`)),
  one(
    "trailers that set headers",
    chunked(SOLVE, `${good.length.toString(16)}\r\n${good}\r\n0\r\nContent-Length: 5\r\nX-A: b\r\n\r\n`),
  ),
  one("one byte a chunk", chunked(SOLVE, `${[...good].map((c) => `1\r\n${c}\r\n`).join("")}0\r\n\r\n`)),
  one(
    "a length and chunks",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: 5\r\nTransfer-Encoding: chunked\r\n\r\n0\r\n\r\nGET /x HTTP/1.1\r\n\r\n`,
  ),
  one(
    "two lengths",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: 5\r\nContent-Length: 6\r\n\r\n{"a":1}`,
  ),
  one(
    "a negative length",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: -5\r\n\r\n${good}`,
  ),
  one(
    "a length that is none",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: 1e3\r\n\r\n${good}`,
  ),
  one(
    "a length of terabytes",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: 9999999999999\r\n\r\n${good}`,
  ),
  one(
    "an encoding nobody knows",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nTransfer-Encoding: smoke\r\n\r\n${good}`,
  ),
  cut(
    "a body cut short",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: 500\r\n\r\n${good}`,
  ),
  cut(
    "a form cut short",
    `POST ${PHOTOS} HTTP/1.1\r\n${HOST}\r\nContent-Type: multipart/form-data; boundary=b\r\nContent-Length: 5000\r\n\r\n${photo}`,
  ),
  cut("a head cut short", `GET ${GET_SUN} HTTP/1.1\r\nHo`),
  cut("nothing at all", ""),
  one(
    "a body longer than its length",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: ${good.length}\r\n\r\n${good}garbage garbage\r\n\r\n`,
  ),
  one("twenty requests in one go", get(GET_SUN).repeat(20)),
  one(
    "a body a byte at a time",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: ${good.length}\r\n\r\n`,
    ...[...good].flatMap((c) => [c, 5]),
  ),
  one("a head a byte at a time", ...[...get(GET_SUN)].flatMap((c) => [c, 2])),
  one(
    "a body announced with 100-continue",
    `POST ${SOLVE} HTTP/1.1\r\n${HOST}\r\nContent-Type: application/json\r\nContent-Length: ${good.length}\r\nExpect: 100-continue\r\n\r\n`,
    50,
    good,
  ),
  one("random bytes", Buffer.from(Array.from({ length: 4000 }, (_, i) => (i * 7919 + 31) % 256))),
];

/** Everything that no honest caller sends. */
export const HOSTILE: readonly HostileRequest[] = [
  ...documents,
  ...types,
  ...forms,
  ...paths,
  ...queries,
  ...headers,
  ...framing,
];
