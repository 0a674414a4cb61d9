import type { Measurand } from '../driver.js';

/** What a board's own word for a number says that it measures; common practice. The first that fits counts. */
const WORDS: readonly (readonly [says: RegExp, measures: Measurand, unit: string])[] = [
  [/temp|celsius|heatsink|ambient|(^|_)case|degc|^t\d*$|^tc\d*$/i, 'temperature', 'C'],
  [/(^|_)mv$|millivolt/i, 'dc-volts', 'mV'],
  [/(^|_)ma$|milliamp/i, 'dc-amps', 'mA'],
  [/volt|^[uv]\d*$|^v(in|out|bat|cc)|_v$/i, 'dc-volts', 'V'],
  [/(^|_)amps?|current|^i\d*$|_a$/i, 'dc-amps', 'A'],
  [/ohm|resistance/i, 'ohms', 'ohm'],
  [/freq|hertz|_hz$/i, 'frequency', 'Hz'],
];

/** Columns that tell when or how often and not what. */
const BOOKKEEPING =
  /^(t_?ms|ms|millis|micros|time|date|timestamp|uptime|seconds?|secs?|n|nr|no|count|index|seq(uence)?|id)$/i;

export interface LabelGuess {
  readonly measures: Measurand;
  readonly unit: string;
}

/** Undefined when the word says nothing. */
export function guessFromLabel(label: string): LabelGuess | undefined {
  const found = WORDS.find(([says]) => says.test(label));
  return found && { measures: found[1], unit: found[2] };
}

/** Whether numbers under this word are times or counts. */
export function isBookkeeping(label: string): boolean {
  return BOOKKEEPING.test(label.trim());
}

/** Names for numbers, each given once: letters, digits and hyphens, made of the board's own words. */
export class Namer {
  readonly #taken = new Set<string>();

  name(label: string, otherwise: string): string {
    const plain = label
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, '-')
      .replace(/^[^a-z]+|-$/g, '')
      .slice(0, 40);
    const stem = plain === '' ? otherwise : plain;
    let name = stem;
    for (let n = 2; this.#taken.has(name); n += 1) name = `${stem}-${n}`;
    this.#taken.add(name);
    return name;
  }
}
