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

const LINEAR_GAMMA = 100_000;

/** Whether a PNG says that its codes count by light: a gAMA chunk of 1 (PNG, third edition, 11.3.2.2). */
export function isLinearPng(bytes: Uint8Array): boolean {
  const view = new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  let at = 8;
  while (at + 12 <= bytes.length) {
    const length = view.getUint32(at);
    const type = String.fromCharCode(...bytes.subarray(at + 4, at + 8));
    if (type === "gAMA" && length === 4) return view.getUint32(at + 8) === LINEAR_GAMMA;
    if (type === "IDAT") return false;
    at += 12 + length;
  }
  return false;
}
