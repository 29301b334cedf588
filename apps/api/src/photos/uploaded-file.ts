/** A file of a form. The platform's own `File` is one. */
export type UploadedFile = Pick<File, "name" | "type" | "size" | "stream" | "arrayBuffer">;

/**
 * Make a file of pieces that are in memory, without a copy. The bytes of a `File` lie where the engine does not count them: small objects that hold
 * megabytes would stay until it next collects everything, which it sees no reason to do.
 */
export function uploadedFile(name: string, type: string, pieces: readonly Uint8Array<ArrayBuffer>[]): UploadedFile {
  const size = pieces.reduce((sum, { byteLength }) => sum + byteLength, 0);
  const stream = (): ReadableStream<Uint8Array<ArrayBuffer>> => {
    const left = pieces.values();
    return new ReadableStream(
      {
        pull(controller) {
          const { value, done } = left.next();
          if (done === true) controller.close();
          else controller.enqueue(value);
        },
      },
      { highWaterMark: 0 },
    );
  };
  return { name, type, size, stream, arrayBuffer: () => new Response(stream()).arrayBuffer() };
}

/** Text parts that are JSON hold no functions. */
export function isUploadedFile(part: unknown): part is UploadedFile {
  return typeof (part as Partial<UploadedFile> | null | undefined)?.stream === "function";
}
