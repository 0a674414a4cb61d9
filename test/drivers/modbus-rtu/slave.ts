import type { Clock } from '../../../drivers/clock.js';

/**
 * A device on the line that keeps to MODBUS Application Protocol V1.1b3, written apart from the driver: it answers
 * one question at a time, in order.
 */
export interface SlaveOptions {
  readonly clock: Clock;
  readonly unit: number;
  readonly say: (frame: Uint8Array) => void;
  /** The registers' contents, or the exception's code. Asked when the question is answered. */
  readonly registers: (functionCode: number, address: number, count: number) => readonly number[] | number;
  /** How long each answer takes, in ms; null for a question that gets lost. */
  readonly takesMs?: (functionCode: number) => number | null;
  /** Whether it has coils and discrete inputs; else it answers "illegal function". */
  readonly hasCoils?: boolean;
  /** Functions that it leaves unanswered. */
  readonly ignores?: readonly number[];
}

export interface Slave {
  /** Takes one question, as heard on the line. */
  hear(question: Uint8Array): void;
}

export function slave(options: SlaveOptions): Slave {
  const { clock, unit, say, registers, takesMs = () => 20, hasCoils = false, ignores = [] } = options;
  let busyUntilMs = 0;
  return {
    hear(question) {
      const [to, functionCode = 0] = question;
      if (to !== unit || !endsInItsCrc(question) || ignores.includes(functionCode)) return;
      const needsMs = takesMs(functionCode);
      if (needsMs === null) return;
      busyUntilMs = Math.max(busyUntilMs, clock.nowMs()) + needsMs;
      clock.after(busyUntilMs - clock.nowMs(), () => say(answerTo(question)));
    },
  };

  function answerTo(question: Uint8Array): Uint8Array {
    const view = new DataView(question.buffer, question.byteOffset);
    const functionCode = view.getUint8(1);
    if (functionCode <= 2 && hasCoils) {
      const size = Math.ceil(view.getUint16(4) / 8);
      return sealed([unit, functionCode, size, ...Array.from({ length: size }, () => 0)]);
    }
    const isRead = functionCode === 3 || functionCode === 4;
    const found = isRead ? registers(functionCode, view.getUint16(2), view.getUint16(4)) : 1;
    if (typeof found === 'number') return sealed([unit, functionCode | 0x80, found]);
    const bytes = found.flatMap((register) => [(register >> 8) & 0xff, register & 0xff]);
    return sealed([unit, functionCode, bytes.length, ...bytes]);
  }
}

/** The bytes with their CRC, bit by bit as in MODBUS over Serial Line V1.02, 6.2.2. */
export function sealed(bytes: readonly number[]): Uint8Array {
  let register = 0xffff;
  for (const byte of bytes) {
    register ^= byte;
    for (let bit = 0; bit < 8; bit += 1) register = register & 1 ? (register >> 1) ^ 0xa001 : register >> 1;
  }
  return Uint8Array.of(...bytes, register & 0xff, register >> 8);
}

function endsInItsCrc(question: Uint8Array): boolean {
  return Buffer.from(sealed([...question.subarray(0, -2)])).equals(question);
}
