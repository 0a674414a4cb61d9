import { hasGoodCrc, withCrc } from './crc.js';

/** Codes of MODBUS Application Protocol V1.1b3, section 6. The first two are only asked as markers; see settle.ts. */
export const READ_COILS = 0x01;
export const READ_DISCRETE_INPUTS = 0x02;
export const READ_HOLDING = 0x03;
export const READ_INPUT = 0x04;

/** The most registers that one answer carries. */
export const MOST_REGISTERS = 125;
/** The longest frame on a serial line, and the shortest: an exception. */
export const LONGEST_FRAME_BYTES = 256;
export const SHORTEST_FRAME_BYTES = 5;

const EXCEPTION_BIT = 0x80;
const HEAD_BYTES = 3;
const CRC_BYTES = 2;

/** A question for registers (or coils): `count` of them from `address` on. */
export interface ReadRequest {
  readonly unit: number;
  readonly functionCode: number;
  readonly address: number;
  readonly count: number;
}

/** One whole answer with a good CRC. */
export interface AnswerFrame {
  readonly unit: number;
  /** Without the bit that marks an exception. */
  readonly functionCode: number;
  /** The exception's code; null for an answer with data. */
  readonly exception: number | null;
  /** Empty for an exception. */
  readonly data: Uint8Array;
  /** Where it stands among the bytes heard. */
  readonly start: number;
  readonly end: number;
}

export function requestBytes({ unit, functionCode, address, count }: ReadRequest): Uint8Array {
  return withCrc(Uint8Array.of(unit, functionCode, address >>> 8, address & 0xff, count >>> 8, count & 0xff));
}

/** How many bytes of data answer this question. */
export function dataBytes({ functionCode, count }: ReadRequest): number {
  return functionCode <= READ_DISCRETE_INPUTS ? Math.ceil(count / 8) : 2 * count;
}

/** The length of the whole answer when it is no exception. */
export function answerBytes(request: ReadRequest): number {
  return HEAD_BYTES + dataBytes(request) + CRC_BYTES;
}

/** All whole answers among these bytes, in order, whatever stands between them. */
export function framesIn(heard: Uint8Array): readonly AnswerFrame[] {
  const frames: AnswerFrame[] = [];
  for (let at = 0; at + SHORTEST_FRAME_BYTES <= heard.length;) {
    const frame = frameAt(heard, at);
    if (frame === null) at += 1;
    else {
      frames.push(frame);
      at = frame.end;
    }
  }
  return frames;
}

function frameAt(heard: Uint8Array, start: number): AnswerFrame | null {
  const [unit = 0, code = 0, third = 0] = heard.subarray(start, start + HEAD_BYTES);
  const isException = (code & EXCEPTION_BIT) !== 0;
  const functionCode = code & ~EXCEPTION_BIT;
  if (functionCode < READ_COILS || functionCode > READ_INPUT) return null;
  const end = start + HEAD_BYTES + (isException ? 0 : third) + CRC_BYTES;
  if (end > heard.length || !hasGoodCrc(heard.subarray(start, end))) return null;
  const data = isException ? new Uint8Array(0) : heard.slice(start + HEAD_BYTES, end - CRC_BYTES);
  return { unit, functionCode, exception: isException ? third : null, data, start, end };
}

/** Whether this is what the question asks for: unit, function and amount agree. */
export function fits(frame: AnswerFrame, request: ReadRequest): boolean {
  return (
    frame.unit === request.unit &&
    frame.functionCode === request.functionCode &&
    (frame.exception !== null || frame.data.length === dataBytes(request))
  );
}

/** Adapters for two-wire lines may hear what they say; their own question isn't an answer. */
export function withoutEcho(heard: Uint8Array, request: ReadRequest): Uint8Array {
  const sent = requestBytes(request);
  return sent.every((byte, index) => heard[index] === byte) ? heard.subarray(sent.length) : heard;
}

/** `01 83 02`, the first few bytes. */
export function hexOf(bytes: Uint8Array): string {
  const shown = Array.from(bytes.subarray(0, 20), (byte) => byte.toString(16).toUpperCase().padStart(2, '0'));
  return bytes.length > 20 ? `${shown.join(' ')} and ${bytes.length - 20} more` : shown.join(' ');
}
