import { endianness } from 'node:os';
import type { CaptureEvent } from '../../watch/events.js';
import { COUNT_BYTES } from '../schemas.js';

/** With the rest of its line, still under the longest line that is read. */
const LONGEST_BASE64 = 3 * 1024 * 1024;

const IS_LITTLE_ENDIAN = endianness() === 'LE';

type Counts = CaptureEvent['counts'];
type CountArray = Int8Array | Uint8Array | Int16Array | Uint16Array;

/**
 * Counts as a capture event holds them, whatever the byte order of this machine.
 * @throws {RangeError} when they are none, or more than a line takes (about 1.1 million of 16 bits).
 */
export function packedSamples(counts: CountArray): Pick<CaptureEvent, 'counts' | 'samples'> {
  const kind = kindOf(counts);
  const bytes = Buffer.from(counts.buffer, counts.byteOffset, counts.byteLength);
  const samples = inLittleEndian(bytes, kind).toString('base64');
  if (counts.length === 0 || samples.length > LONGEST_BASE64) {
    throw new RangeError(
      `samples: found ${counts.length}; a recording takes 1 to ${(LONGEST_BASE64 / 4) * 3} bytes of them`,
    );
  }
  return { counts: kind, samples };
}

/** What the samples are in the capture's unit. One loop, hot. */
export function sampleValues({ counts: kind, samples, scale, offset }: CaptureEvent): Float64Array {
  const counts = countsIn(inLittleEndian(Buffer.from(samples, 'base64'), kind), kind);
  const values = new Float64Array(counts.length);
  for (let i = 0; i < values.length; i += 1) values[i] = (counts[i] as number) * scale + offset;
  return values;
}

/** The bytes as they are, or a copy in the other order; which is also the way back. */
function inLittleEndian(bytes: Buffer, kind: Counts): Buffer {
  return IS_LITTLE_ENDIAN || COUNT_BYTES[kind] === 1 ? bytes : Buffer.from(bytes).swap16();
}

/** The bytes seen as counts; half a count at the end is left out. Copied, since words must lie at even places. */
function countsIn({ buffer, byteOffset, length }: Buffer, kind: Counts): CountArray {
  const whole = length - (length % COUNT_BYTES[kind]);
  const bytes = buffer.slice(byteOffset, byteOffset + whole);
  switch (kind) {
    case 'i8':
      return new Int8Array(bytes);
    case 'u8':
      return new Uint8Array(bytes);
    case 'i16':
      return new Int16Array(bytes);
    case 'u16':
      return new Uint16Array(bytes);
  }
}

function kindOf(counts: CountArray): Counts {
  if (counts instanceof Int8Array) return 'i8';
  if (counts instanceof Uint8Array) return 'u8';
  return counts instanceof Int16Array ? 'i16' : 'u16';
}
