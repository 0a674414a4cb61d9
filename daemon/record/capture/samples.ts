import type { CaptureEvent } from '../../watch/events.js';
import { COUNT_BYTES } from '../schemas.js';

/** With the rest of its line, still under the longest line that is read. */
const LONGEST_BASE64 = 3 * 1024 * 1024;

type Counts = CaptureEvent['counts'];

/**
 * Counts as a capture event holds them, whatever the byte order of this machine.
 * @throws {RangeError} when they are none, or more than a line takes (about 1.1 million of 16 bits).
 */
export function packedSamples(
  counts: Int8Array | Uint8Array | Int16Array | Uint16Array,
): Pick<CaptureEvent, 'counts' | 'samples'> {
  const kind = kindOf(counts);
  const bytes = Buffer.alloc(counts.length * COUNT_BYTES[kind]);
  counts.forEach((count, i) => write(kind, bytes, count, i * COUNT_BYTES[kind]));
  const samples = bytes.toString('base64');
  if (counts.length === 0 || samples.length > LONGEST_BASE64) {
    throw new RangeError(
      `samples: found ${counts.length}; a recording takes 1 to ${(LONGEST_BASE64 / 4) * 3} bytes of them`,
    );
  }
  return { counts: kind, samples };
}

/** What the samples are in the capture's unit. */
export function sampleValues({ counts, samples, scale, offset }: CaptureEvent): Float64Array {
  const bytes = Buffer.from(samples, 'base64');
  const size = COUNT_BYTES[counts];
  const values = new Float64Array(Math.floor(bytes.length / size));
  for (let i = 0; i < values.length; i += 1) values[i] = read(counts, bytes, i * size) * scale + offset;
  return values;
}

function kindOf(counts: Int8Array | Uint8Array | Int16Array | Uint16Array): Counts {
  if (counts instanceof Int8Array) return 'i8';
  if (counts instanceof Uint8Array) return 'u8';
  return counts instanceof Int16Array ? 'i16' : 'u16';
}

function read(kind: Counts, bytes: Buffer, at: number): number {
  switch (kind) {
    case 'i8':
      return bytes.readInt8(at);
    case 'u8':
      return bytes.readUInt8(at);
    case 'i16':
      return bytes.readInt16LE(at);
    case 'u16':
      return bytes.readUInt16LE(at);
  }
}

function write(kind: Counts, bytes: Buffer, count: number, at: number): void {
  switch (kind) {
    case 'i8':
      bytes.writeInt8(count, at);
      return;
    case 'u8':
      bytes.writeUInt8(count, at);
      return;
    case 'i16':
      bytes.writeInt16LE(count, at);
      return;
    case 'u16':
      bytes.writeUInt16LE(count, at);
  }
}
