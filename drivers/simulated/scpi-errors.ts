/** Error numbers and texts of SCPI-1999, volume 2, chapter 21. */
export const SCPI_ERRORS = {
  [-100]: 'Command error',
  [-104]: 'Data type error',
  [-108]: 'Parameter not allowed',
  [-109]: 'Missing parameter',
  [-113]: 'Undefined header',
  [-114]: 'Header suffix out of range',
  [-213]: 'Init ignored',
  [-222]: 'Data out of range',
  [-224]: 'Illegal parameter value',
  [-230]: 'Data corrupt or stale',
  [-350]: 'Queue overflow',
  [-363]: 'Input buffer overrun',
} as const;

export type ScpiErrorNumber = keyof typeof SCPI_ERRORS;

const DEPTH = 20;

/** First in, first out; when it is full the newest entry is replaced by -350. */
export interface ErrorQueue {
  push(number: ScpiErrorNumber): void;
  /** Fills it to the brim and beyond, as a program with many mistakes does. */
  fill(): void;
  /** The oldest entry as SYSTem:ERRor? answers it, and takes it away; `0,"No error"` when there is none. */
  next(): string;
  readonly isEmpty: boolean;
  clear(): void;
}

export function errorQueue(): ErrorQueue {
  let entries: ScpiErrorNumber[] = [];
  function push(number: ScpiErrorNumber): void {
    if (entries.length < DEPTH) entries.push(number);
    else entries[DEPTH - 1] = -350;
  }
  return {
    push,
    fill() {
      for (let count = 0; count <= DEPTH; count += 1) push(-113);
    },
    next() {
      const number = entries.shift();
      return number === undefined ? '0,"No error"' : `${number},"${SCPI_ERRORS[number]}"`;
    },
    get isEmpty() {
      return entries.length === 0;
    },
    clear() {
      entries = [];
    },
  };
}

/** The bit that an error of this number sets in the event status register (IEEE 488.2, 11.5.1). */
export function eventBitOf(number: ScpiErrorNumber): number {
  if (number > -200) return 32;
  return number > -300 ? 16 : 8;
}
