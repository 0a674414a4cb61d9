import type { CaptureEvent } from './events.js';

/** The counts of a capture, from base64 (RFC 4648) of little-endian integers. */
export function captureCounts({ counts, samples }: CaptureEvent): ArrayLike<number> {
  const text = atob(samples);
  const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
  if (counts === 'u8') return bytes;
  if (counts === 'i8') return new Int8Array(bytes.buffer);
  const view = new DataView(bytes.buffer);
  const wholes = Math.floor(bytes.length / 2);
  return counts === 'i16'
    ? Int16Array.from({ length: wholes }, (_, index) => view.getInt16(2 * index, true))
    : Uint16Array.from({ length: wholes }, (_, index) => view.getUint16(2 * index, true));
}
