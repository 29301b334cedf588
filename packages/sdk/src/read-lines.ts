/**
 * The values of a stream of JSON lines, each as soon as its line is whole; whoever stops early cancels the stream.
 * @param inTime bounds each wait for more
 */
export async function* readLines<Value>(
  stream: ReadableStream<Uint8Array>,
  inTime: <T>(wait: Promise<T>) => Promise<T>,
): AsyncGenerator<Value, void, undefined> {
  const reader = stream.getReader();
  const decoder = new TextDecoder();
  let rest = "";
  try {
    for (;;) {
      const { done, value } = await inTime(reader.read());
      rest += done ? decoder.decode() : decoder.decode(value, { stream: true });
      const lines = rest.split("\n");
      rest = lines.pop() as string;
      for (const line of lines) if (line !== "") yield JSON.parse(line) as Value;
      if (done) break;
    }
    if (rest !== "") yield JSON.parse(rest) as Value;
  } finally {
    await reader.cancel().catch(() => undefined);
  }
}
