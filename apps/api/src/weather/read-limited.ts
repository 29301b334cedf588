/** The text of an answer; one that is longer than it may be is let go, and throws. */
export async function readLimited(response: Response, mostBytes: number): Promise<string> {
  if (response.body === null) return "";
  const decoder = new TextDecoder();
  let text = "";
  let bytes = 0;
  for await (const chunk of response.body as unknown as AsyncIterable<Uint8Array>) {
    bytes += chunk.length;
    // leaving the loop cancels the body
    if (bytes > mostBytes) throw new Error(`the answer is over ${mostBytes} bytes`);
    text += decoder.decode(chunk, { stream: true });
  }
  return text + decoder.decode();
}
