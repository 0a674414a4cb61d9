import { endianness } from 'node:os';
import type { Capture, Samples } from '../driver.js';

/** How the samples of a block are written. */
export interface SampleForm {
  readonly bits: 8 | 16;
  readonly signed: boolean;
  /** Which byte of a word comes first. */
  readonly byteOrder: 'big' | 'little';
}

const MACHINE_ORDER = endianness() === 'LE' ? 'little' : 'big';

/**
 * The bytes seen as samples, without a copy. Words in the other byte order are turned round where they lie.
 * `bytes` must begin its own buffer. Null when they aren't a whole number of samples.
 */
export function samplesIn(bytes: Uint8Array, { bits, signed, byteOrder }: SampleForm): Samples | null {
  const { buffer, byteOffset, length } = bytes;
  if (bits === 8) return signed ? new Int8Array(buffer, byteOffset, length) : bytes;
  if (length % 2 !== 0) return null;
  if (byteOrder !== MACHINE_ORDER) Buffer.from(buffer, byteOffset, length).swap16();
  return signed
    ? new Int16Array(buffer, byteOffset, length / 2)
    : new Uint16Array(buffer, byteOffset, length / 2);
}

/** What the samples are worth in the capture's unit, written to `values`, which must be as long. One loop, hot. */
export function scaleSamples({ samples, scale, offset }: Capture, values: Float64Array): void {
  const length = Math.min(samples.length, values.length);
  for (let i = 0; i < length; i += 1) values[i] = (samples[i] as number) * scale + offset;
}
