import type { PhotoFormat } from "./photo-reader";

// ISO/IEC 10918-1 (SOI and the marker after it); PNG, third edition, 5.2; TIFF 6.0, section 2
const SIGNATURES: readonly (readonly [PhotoFormat, readonly number[]])[] = [
  ["jpeg", [0xff, 0xd8, 0xff]],
  ["png", [0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a]],
  ["tiff", [0x49, 0x49, 0x2a, 0x00]],
  ["tiff", [0x4d, 0x4d, 0x00, 0x2a]],
];

/** The format by the first bytes, so that no decoder for anything else ever sees the file. */
export function photoFormat(bytes: Uint8Array): PhotoFormat | undefined {
  return SIGNATURES.find(([, signature]) => signature.every((byte, i) => bytes[i] === byte))?.[0];
}
