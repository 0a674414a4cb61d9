/** An error as a bit of the standard event status register tells it. */
export interface EventError {
  /** The first number of its kind in an error queue (SCPI-1999 volume 2, 21.8.9 to 21.8.12). */
  readonly number: number;
  readonly words: string;
}

/** IEEE 488.2, 11.5.1.1. */
const ERROR_BITS: readonly (readonly [mask: number, error: EventError])[] = [
  [0x20, { number: -100, words: 'command error' }],
  [0x10, { number: -200, words: 'execution error' }],
  [0x08, { number: -300, words: 'device-dependent error' }],
  [0x04, { number: -400, words: 'query error' }],
];

/** The errors in an answer to `*ESR?`; null when it is none: a whole number up to 255. */
export function eventErrorsIn(answer: string): readonly EventError[] | null {
  const status = /^\s*\+?\d{1,3}\s*$/.test(answer) ? Number(answer) : NaN;
  if (!(status <= 255)) return null;
  return ERROR_BITS.flatMap(([mask, error]) => ((status & mask) === 0 ? [] : [error]));
}
