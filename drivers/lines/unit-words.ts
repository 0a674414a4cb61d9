import type { Measurand } from '../driver.js';

/**
 * SI prefixes (BIPM, SI brochure) that bench readings use. Both micro signs of Unicode, the `u` of keyboards, and the `K`
 * of displays that have capitals only.
 */
const PREFIXES: readonly (readonly [prefix: string, power: number])[] = [
  ['', 0],
  ['n', -9],
  ['u', -6],
  ['\u00b5', -6],
  ['\u03bc', -6],
  ['m', -3],
  ['k', 3],
  ['K', 3],
  ['M', 6],
  ['G', 9],
];
const LARGE: ReadonlySet<string> = new Set(['M', 'G']);

/** How instruments spell each unit. `V` alone can be either kind; the pattern or the bench file says which. */
const SYMBOLS: Readonly<Record<Measurand, readonly string[]>> = {
  'dc-volts': ['V', 'VDC', 'Vdc', 'V_DC'],
  'ac-volts': ['V', 'VAC', 'Vac', 'V_AC', 'Vrms', 'VRMS'],
  'dc-amps': ['A', 'ADC', 'Adc', 'A_DC'],
  'ac-amps': ['A', 'AAC', 'Aac', 'A_AC', 'Arms', 'ARMS'],
  ohms: ['ohm', 'Ohm', 'OHM', 'ohms', 'Ohms', 'OHMS', '\u03a9', '\u2126'],
  temperature: ['C', 'degC', 'DEGC', '\u00b0C', '\u00baC', '\u2103', 'Cel', 'CEL'],
  frequency: ['Hz', 'HZ', 'hz'],
};

/** Measured in millions: before volts and amps an `M` is that of a display of capitals, which may mean milli. */
const TAKES_LARGE: ReadonlySet<Measurand> = new Set<Measurand>(['ohms', 'frequency']);
/** Spellings that take no prefix: a millidegree is no bench reading, and `mC` would be a charge. */
const NO_PREFIX: ReadonlySet<Measurand> = new Set<Measurand>(['temperature']);

const POWERS = new Map<Measurand, ReadonlyMap<string, number>>(
  (Object.keys(SYMBOLS) as Measurand[]).map((measurand) => [measurand, powersOf(measurand)]),
);

function powersOf(measurand: Measurand): ReadonlyMap<string, number> {
  const fitting = PREFIXES.filter(([prefix]) => TAKES_LARGE.has(measurand) || !LARGE.has(prefix));
  const prefixes = NO_PREFIX.has(measurand) ? PREFIXES.slice(0, 1) : fitting;
  return new Map(
    prefixes.flatMap(([prefix, power]) =>
      SYMBOLS[measurand].map((symbol) => [prefix + symbol, power] as const),
    ),
  );
}

/** The power of ten from the unit `word` to the measurand's unit, -3 for `mV`; undefined if it isn't such a unit. */
export function unitPower(measurand: Measurand, word: string): number | undefined {
  return POWERS.get(measurand)?.get(word);
}

/** The powers that a double holds exactly, far beyond the prefixes: raising ten for each reading takes as long as reading. */
const POWERS_OF_TEN = Array.from({ length: 23 }, (_, power) => Number(`1e${power}`));

/** `value` times ten to the `power`. Divides for negative powers: 1/1000 has no exact double, 1000 has. */
export function timesPower(value: number, power: number): number {
  if (power === 0) return value;
  const factor = POWERS_OF_TEN[Math.abs(power)] as number;
  return power < 0 ? value / factor : value * factor;
}

/** What a unit word says is measured; the direct kind for a plain `V` or `A`. Undefined when it isn't a unit. */
export function measurandOfUnit(word: string): Measurand | undefined {
  for (const [measurand, powers] of POWERS) if (powers.has(word)) return measurand;
  return undefined;
}

/** The characters that unit words are made of: letters, and Unicode's micro, degree and ohm signs. */
const UNIT_WORD = /[A-Za-z_\u00b5\u03bc\u00b0\u00ba\u2103\u2109\u03a9\u2126]*/y;

/** The unit word at `from`: letters and unit signs without a blank. Empty when there is none. */
export function unitWordAt(text: string, from: number): string {
  UNIT_WORD.lastIndex = from;
  return UNIT_WORD.exec(text)?.[0] ?? '';
}

/** Where a unit word in UTF-8 that begins at `from` ends: everything beyond ASCII counts as part of it. */
export function endOfUnitWord(line: Uint8Array, from: number): number {
  let at = from;
  while (isUnitByte(line[at])) at += 1;
  return at;
}

/** Whether a byte of UTF-8 can be part of a unit word; false past the line's end. */
export function isUnitByte(byte: number | undefined): boolean {
  if (byte === undefined) return false;
  return (byte >= 97 && byte <= 122) || (byte >= 65 && byte <= 90) || byte >= 128 || byte === 95;
}
