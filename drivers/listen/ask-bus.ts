import {
  fits,
  framesIn,
  READ_HOLDING,
  READ_INPUT,
  requestBytes,
  withoutEcho,
  type ReadRequest,
} from '../modbus-rtu/frames.js';
import { silenceMs, wireMs } from '../modbus-rtu/silence.js';
import { askOnce, type Asking } from './asking.js';
import { waitUntil } from './wait-until.js';

/** A device on a MODBUS line that answered. */
export interface FoundUnit {
  /** Its address on the line. */
  readonly unit: number;
  /** What it let itself be asked for; holding registers when it refused both. */
  readonly read: 'holding' | 'input';
  /** False when it answered with an exception only: its registers stand elsewhere. */
  readonly hasRegister: boolean;
}

/** Devices leave the factory as unit 1, and a second one on the line is given the next number; common practice. */
const UNITS = [1, 2, 3];
/** Devices answer within this, the time on the wire not counted; common practice. */
const ANSWER_MS = 150;
const QUESTION_BYTES = 8;
/** One register's answer, or what a two-wire adapter hears of itself and then the answer. */
const ANSWER_BYTES = QUESTION_BYTES + 7;
/** Where no speed is told, as over TCP. */
const UNKNOWN_BAUD = 9600;

/**
 * Asks units 1 to 3 for their first register, with functions 3 and 4 only, which read and change nothing (MODBUS
 * Application Protocol V1.1b3, 6.3 and 6.4). An exception is an answer too. Null when nobody answers.
 */
export async function askBus(asking: Asking, baud: number | null): Promise<FoundUnit | null> {
  for (const unit of UNITS) {
    if (asking.isOver()) return null;
    const holding = await askUnit(asking, unit, READ_HOLDING, baud ?? UNKNOWN_BAUD);
    if (holding === null) continue;
    if (holding === 'data') return { unit, read: 'holding', hasRegister: true };
    const hasInput = (await askUnit(asking, unit, READ_INPUT, baud ?? UNKNOWN_BAUD)) === 'data';
    return { unit, read: hasInput ? 'input' : 'holding', hasRegister: hasInput };
  }
  return null;
}

/** Null for silence. */
async function askUnit(
  asking: Asking,
  unit: number,
  functionCode: number,
  baud: number,
): Promise<'data' | 'exception' | null> {
  const request: ReadRequest = { unit, functionCode, address: 0, count: 1 };
  const withinMs = ANSWER_MS + wireMs(QUESTION_BYTES + ANSWER_BYTES, baud);
  const found = await askOnce(asking, requestBytes(request), withinMs, (heard) => {
    const answer = framesIn(withoutEcho(heard, request)).find((frame) => fits(frame, request));
    if (answer === undefined) return null;
    return answer.exception === null ? ('data' as const) : ('exception' as const);
  });
  await waitUntil(asking.clock, Math.ceil(silenceMs(baud)), asking.isOver);
  return found;
}
