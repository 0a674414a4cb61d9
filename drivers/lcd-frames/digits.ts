import type { Segment } from './layout.js';

/** Which bars make which character on a seven-segment display. Common practice. */
const BARS: readonly (readonly [character: string, bars: string])[] = [
  [' ', ''],
  ['0', 'abcdef'],
  ['1', 'bc'],
  ['2', 'abdeg'],
  ['3', 'abcdg'],
  ['4', 'bcfg'],
  ['5', 'acdfg'],
  ['6', 'acdefg'],
  ['7', 'abc'],
  ['8', 'abcdefg'],
  ['9', 'abcdfg'],
  ['L', 'def'],
];

const CHARACTERS = new Map(BARS.map(([character, bars]) => [bars, character]));

/** The character that these bars make, in the order a to g; null when they make none. */
export function characterOf(bars: readonly Segment[]): string | null {
  return CHARACTERS.get(bars.join('')) ?? null;
}
