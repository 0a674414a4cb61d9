import type { Clock } from '../clock.js';
import type { Measurand } from '../driver.js';
import type { RegisterSpec } from '../modbus-rtu/register-map.js';
import type { ByteEnd, SimulatedDevice } from './device.js';

export interface ModbusDeviceOptions {
  readonly end: ByteEnd;
  readonly clock: Clock;
  /** What stands where; every unit in it is a device on this line. */
  readonly registers: readonly RegisterSpec[];
  /** What a channel's probe sees; null for one that hangs in the air. */
  readonly measure: (channel: string, measurand: Measurand) => number | null;
}

/** A frame ends with a silence of 3.5 characters; at 9600 baud that is 4 ms (MODBUS over Serial Line V1.02, 2.5.1.1). */
const FRAME_SILENCE_MS = 4;
/** The longest frame (2.5.1.1). More than that without a silence is no frame. */
const LONGEST_FRAME = 256;
const READ_HOLDING = 3;
const READ_INPUT = 4;
const QUESTION_BYTES = 8;
/** Exception codes of MODBUS Application Protocol V1.1b3, 7. */
const ILLEGAL_FUNCTION = 1;
const ILLEGAL_ADDRESS = 2;
const ILLEGAL_COUNT = 3;
const MOST_REGISTERS = 125;

/** Devices on a MODBUS line in RTU framing, which answer reads of their registers. */
export function modbusDevice({ end, clock, registers, measure }: ModbusDeviceOptions): SimulatedDevice {
  let heard: number[] = [];
  let cancelSilence: () => void = () => undefined;
  let isOn = false;

  function hear(bytes: Uint8Array): void {
    if (!isOn) return;
    heard = [...heard, ...bytes].slice(-LONGEST_FRAME);
    cancelSilence();
    cancelSilence = clock.after(FRAME_SILENCE_MS, () => {
      const question = heard;
      heard = [];
      answer(question);
    });
  }

  function answer(question: readonly number[]): void {
    const [unit = 0, functionCode = 0] = question;
    const isForUs = registers.some((register) => register.unit === unit);
    if (
      !isForUs ||
      question.length < 4 ||
      crcOf(question.slice(0, -2)).some((byte, at) => byte !== question.at(at - 2))
    )
      return;
    const body = bodyFor(unit, functionCode, question);
    const frame =
      typeof body === 'number'
        ? [unit, functionCode | 0x80, body]
        : [unit, functionCode, body.length, ...body];
    end.send(Uint8Array.from([...frame, ...crcOf(frame)]));
  }

  /** The registers' bytes, or the code of an exception. */
  function bodyFor(
    unit: number,
    functionCode: number,
    question: readonly number[],
  ): readonly number[] | number {
    if (![READ_HOLDING, READ_INPUT].includes(functionCode) || question.length !== QUESTION_BYTES)
      return ILLEGAL_FUNCTION;
    const [, , addressHigh = 0, addressLow = 0, countHigh = 0, countLow = 0] = question;
    const count = countHigh * 256 + countLow;
    if (count < 1 || count > MOST_REGISTERS) return ILLEGAL_COUNT;
    const content = contentOf(
      registers.filter((each) => each.unit === unit && each.functionCode === functionCode),
      measure,
    );
    const first = addressHigh * 256 + addressLow;
    const bytes = Array.from({ length: count }, (_, at) => content.get(first + at));
    return bytes.every((pair) => pair !== undefined) ? bytes.flat() : ILLEGAL_ADDRESS;
  }

  end.onBytes(hear);
  return {
    start() {
      heard = [];
      isOn = true;
    },
    stop() {
      isOn = false;
      cancelSilence();
    },
  };
}

/** Two bytes for each register's address. */
function contentOf(
  registers: readonly RegisterSpec[],
  measure: ModbusDeviceOptions['measure'],
): ReadonlyMap<number, readonly number[]> {
  return new Map(
    registers.flatMap((register) => {
      const value = measure(register.name, register.measures);
      const bytes = bytesOf(register, value === null ? NaN : (value - register.offset) / register.scale);
      const pairs = Array.from({ length: bytes.length / 2 }, (_, at) => bytes.slice(2 * at, 2 * at + 2));
      return pairs.map((pair, at) => [register.address + at, pair] as const);
    }),
  );
}

/** A number as its type has it, the most significant byte first unless its order says otherwise; whole ones end at their range. */
function bytesOf({ type, order }: RegisterSpec, raw: number): readonly number[] {
  const size = type === 'int16' || type === 'uint16' ? 2 : 4;
  const view = new DataView(new ArrayBuffer(size));
  if (type === 'float32') view.setFloat32(0, raw);
  else {
    const [low, high] = type.startsWith('u')
      ? [0, 2 ** (8 * size)]
      : [-(2 ** (8 * size - 1)), 2 ** (8 * size - 1)];
    const whole = Math.min(Math.max(Math.round(Number.isNaN(raw) ? 0 : raw), low), high - 1);
    if (size === 2) view.setInt16(0, whole);
    else view.setInt32(0, whole);
  }
  const bytes = [...new Uint8Array(view.buffer)];
  if (size === 2) return bytes;
  return [...order].map((letter) => bytes['ABCD'.indexOf(letter)] ?? 0);
}

/** The CRC of MODBUS over Serial Line V1.02, 6.2.2, bit by bit; its low byte goes first. */
export function crcOf(bytes: readonly number[]): readonly [low: number, high: number] {
  let register = 0xffff;
  for (const byte of bytes) {
    register ^= byte;
    for (let bit = 0; bit < 8; bit += 1) register = register & 1 ? (register >>> 1) ^ 0xa001 : register >>> 1;
  }
  return [register & 0xff, register >>> 8];
}
