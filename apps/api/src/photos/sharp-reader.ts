import pLimit from "p-limit";
import { DecoderProcess } from "./decoder-process";
import type { Photo, PhotoReader } from "./photo-reader";
import { UnreadablePhoto } from "./unreadable-photo";

const DECODED_AT_ONCE = 2;
/** The slowest picture within the bounds takes a sixth of it on one core. */
const LONGEST_DECODE_MS = 60_000;
/** A process without work ends after this. */
const IDLE_MS = 30_000;

export interface ReaderSettings {
  readonly longestDecodeMs?: number;
}

/** Decode photographs in processes of their own, two at a time over all requests. */
export function photoReader({ longestDecodeMs = LONGEST_DECODE_MS }: ReaderSettings = {}): PhotoReader {
  const inTurn = pLimit(DECODED_AT_ONCE);
  const idle = new Map<DecoderProcess, NodeJS.Timeout>();

  async function read(
    file: Pick<Blob, "size" | "stream">,
    signal?: AbortSignal,
    spent?: (ms: number) => void,
  ): Promise<Photo> {
    signal?.throwIfAborted();
    const decoder = takeIdle() ?? new DecoderProcess();
    const timeout = AbortSignal.timeout(longestDecodeMs);
    const startedMs = performance.now();
    try {
      return await decoder.decode(file, signal === undefined ? timeout : AbortSignal.any([signal, timeout]));
    } catch (error) {
      if (error !== timeout.reason) throw error;
      const received = `over ${longestDecodeMs / 1000} s`;
      throw new UnreadablePhoto("this photograph takes too long to decode", received, "a simpler file");
    } finally {
      spent?.(performance.now() - startedMs);
      if (!decoder.hasEnded) keep(decoder);
    }
  }

  function takeIdle(): DecoderProcess | undefined {
    for (const [decoder, timer] of idle) {
      clearTimeout(timer);
      idle.delete(decoder);
      if (!decoder.hasEnded) return decoder;
    }
    return undefined;
  }

  function keep(decoder: DecoderProcess): void {
    const end = (): void => {
      idle.delete(decoder);
      decoder.end();
    };
    idle.set(decoder, setTimeout(end, IDLE_MS).unref());
  }

  return { read: (file, signal, spent) => inTurn(() => read(file, signal, spent)) };
}
