import type { Measurand } from '../driver.js';
import { measureQuestion } from './functions.js';

/** One way of asking a meter for a reading. */
export interface WayOfReading {
  /** Whether the function has to be configured first. */
  readonly needsConfigure: boolean;
  /** A command sent before each question. */
  readonly before: string | null;
  question(measurand: Measurand, range?: number): string;
  /** The way to try when the meter doesn't know this one; null after the last. */
  next(): WayOfReading | null;
}

/**
 * In the order in which they are tried. `FETC?` alone comes last, for meters that measure by themselves: others would
 * repeat an old reading with it.
 */
const WAYS: readonly Omit<WayOfReading, 'next'>[] = [
  { needsConfigure: true, before: null, question: () => 'READ?' },
  { needsConfigure: false, before: null, question: measureQuestion },
  { needsConfigure: true, before: 'INIT', question: () => 'FETC?' },
  { needsConfigure: true, before: null, question: () => 'FETC?' },
];

export function firstWay(): WayOfReading {
  const first = wayAt(0);
  if (first === null) throw new RangeError('there is no way of reading a meter');
  return first;
}

function wayAt(index: number): WayOfReading | null {
  const way = WAYS[index];
  return way === undefined ? null : { ...way, next: () => wayAt(index + 1) };
}

/** Whether the number of an error says that a command wasn't understood: -100 to -199 (SCPI-1999 volume 2, 21.8.9). */
export function isCommandError(number: number): boolean {
  return number <= -100 && number > -200;
}
