import { once } from "node:events";
import sharp from "sharp";
import { decodePhoto } from "./decode-photo";
import type { Photo } from "./photo-reader";
import { UnreadablePhoto } from "./unreadable-photo";

/** What the decoder's process says. */
export type DecoderMessage =
  | { readonly kind: "ready" }
  | { readonly kind: "photo"; readonly photo: Photo }
  | { readonly kind: "unreadable"; readonly detail: string; readonly received: string; readonly allowed: string }
  | { readonly kind: "fault"; readonly message: string };

const LENGTH_BYTES = 4;

/** The decoder's process: files come by its standard input, each after its length. */
async function decodeAll(): Promise<void> {
  sharp.cache(false);
  sharp.concurrency(1);
  // what the signature calls a JPEG, PNG or TIFF is opened as nothing else
  sharp.block({ operation: ["VipsForeignLoad"] });
  sharp.unblock({ operation: ["VipsForeignLoadJpegBuffer", "VipsForeignLoadPngBuffer", "VipsForeignLoadTiffBuffer"] });
  say({ kind: "ready" });
  for (;;) {
    say(await answerFor(await nextFile()));
    // decoded pictures are a few hundred megabytes that the engine does not see
    globalThis.gc?.();
  }
}

async function answerFor(bytes: Uint8Array): Promise<DecoderMessage> {
  try {
    return { kind: "photo", photo: await decodePhoto(bytes) };
  } catch (error) {
    if (!(error instanceof UnreadablePhoto)) return { kind: "fault", message: String(error) };
    const { message: detail, received, allowed } = error;
    return { kind: "unreadable", detail, received, allowed };
  }
}

async function nextFile(): Promise<Uint8Array> {
  const length = (await nextBytes(LENGTH_BYTES)).readUInt32LE();
  return length === 0 ? new Uint8Array(0) : nextBytes(length);
}

async function nextBytes(length: number): Promise<Buffer> {
  const bytes = Buffer.allocUnsafeSlow(length);
  for (let filled = 0; filled < length; ) {
    const chunk = process.stdin.read(Math.min(length - filled, process.stdin.readableLength)) as Buffer | null;
    if (chunk === null) await once(process.stdin, "readable");
    else filled += chunk.copy(bytes, filled);
  }
  return bytes;
}

function say(message: DecoderMessage): void {
  process.send?.(message);
}

// a decoder that is at work holds back an ordinary exit
process.on("disconnect", () => process.kill(process.pid, "SIGKILL"));
// of a terminal, for the whole group: the service stops when it has answered
process.on("SIGINT", () => {});
await decodeAll();
