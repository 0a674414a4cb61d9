import type { Measurand } from '../driver.js';
import { timesPower } from '../lines/unit-words.js';
import { characterOf } from './digits.js';
import { DISPLAY_SYMBOLS, SEGMENTS, type Cell, type DisplayLayout, type DisplaySymbol } from './layout.js';

/**
 * What a display shows: a number, an overload, or something that is no live reading and why. `isBatteryLow` goes
 * with any.
 */
export type Shown = { readonly isBatteryLow: boolean } & (
  | { readonly kind: 'number'; readonly measures: Measurand; readonly value: number }
  | { readonly kind: 'overload'; readonly measures: Measurand }
  /** The meter is set so that its number isn't the quantity at its probes now. */
  | { readonly kind: 'not-live'; readonly why: string }
  | { readonly kind: 'unknown'; readonly why: string }
);

const PREFIX_POWERS: readonly (readonly [DisplaySymbol, number])[] = [
  ['nano', -9],
  ['micro', -6],
  ['milli', -3],
  ['kilo', 3],
  ['mega', 6],
];
const UNITS = ['volt', 'ampere', 'ohm', 'hertz'] as const;
const NO_READING = ['farad', 'percent', 'diode'] as const;

type Lit = ReadonlySet<DisplaySymbol>;
type Outcome<Result> = Result | { readonly why: string };

/**
 * Reads one frame. `celsius` is which of the layout's free symbols, from 1, stands for degrees C on this meter;
 * undefined when nobody has said.
 */
export function readDisplay(frame: Uint8Array, layout: DisplayLayout, celsius?: number): Shown {
  const lit = new Set(DISPLAY_SYMBOLS.filter((symbol) => isLit(frame, layout.symbols[symbol])));
  const isBatteryLow = lit.has('battery-low');
  if (lit.has('hold')) return { kind: 'not-live', why: 'HOLD is on; switch it off', isBatteryLow };
  if (lit.has('relative')) {
    return { kind: 'not-live', why: 'it shows differences (REL); switch that off', isBatteryLow };
  }
  const quantity = quantityOf(lit, freeSymbols(frame, layout), celsius);
  if ('why' in quantity) return { kind: 'unknown', why: quantity.why, isBatteryLow };
  const { measures, power } = quantity;
  const text = textOf(frame, layout);
  if (text === null) return { kind: 'unknown', why: 'bars that make no digit', isBatteryLow };
  if (/^ *0L *$/.test(text)) return { kind: 'overload', measures, isBatteryLow };
  const points = layout.points.filter(({ cell }) => isLit(frame, cell));
  if (!/^ *\d+$/.test(text) || points.length > 1) {
    return { kind: 'unknown', why: `"${text}" with ${points.length} points is no number`, isBatteryLow };
  }
  const sign = isLit(frame, layout.minus) ? -1 : 1;
  const value = timesPower(sign * Number(text), power - (points[0]?.decimals ?? 0));
  return { kind: 'number', measures, value, isBatteryLow };
}

interface Quantity {
  readonly measures: Measurand;
  /** Of ten, from the prefix. */
  readonly power: number;
}

function quantityOf(lit: Lit, free: readonly number[], celsius: number | undefined): Outcome<Quantity> {
  const other = NO_READING.find((symbol) => lit.has(symbol));
  if (other !== undefined) return { why: `${other} is no quantity that is read here` };
  const units = UNITS.filter((symbol) => lit.has(symbol));
  const prefixes = PREFIX_POWERS.filter(([symbol]) => lit.has(symbol));
  if (units.length > 1 || prefixes.length > 1) {
    return { why: `${[...units, ...prefixes.map(([symbol]) => symbol)].join(' and ')} at once` };
  }
  const [unit] = units;
  const power = prefixes[0]?.[1] ?? 0;
  return unit === undefined
    ? temperatureOf(prefixes.length > 0, free, celsius)
    : electrical(unit, lit, power);
}

function electrical(unit: (typeof UNITS)[number], lit: Lit, power: number): Outcome<Quantity> {
  if (unit === 'ohm') return { measures: 'ohms', power };
  if (unit === 'hertz') return { measures: 'frequency', power };
  if (lit.has('ac') === lit.has('dc')) {
    return { why: `${unit} with ${lit.has('ac') ? 'both AC and DC' : 'neither AC nor DC'}` };
  }
  const isAc = lit.has('ac');
  if (unit === 'volt') return { measures: isAc ? 'ac-volts' : 'dc-volts', power };
  return { measures: isAc ? 'ac-amps' : 'dc-amps', power };
}

function temperatureOf(
  hasPrefix: boolean,
  free: readonly number[],
  celsius: number | undefined,
): Outcome<Quantity> {
  if (celsius !== undefined && free.length === 1 && free[0] === celsius && !hasPrefix) {
    return { measures: 'temperature', power: 0 };
  }
  if (free.length === 0) return { why: 'no unit' };
  const which = free.join(' and ');
  return { why: `a symbol of the maker's own (${which}); if it is °C, write celsius_symbol: ${free[0]}` };
}

/** Which of the free symbols are lit, from 1. */
function freeSymbols(frame: Uint8Array, { free }: DisplayLayout): readonly number[] {
  return free.flatMap((cell, index) => (isLit(frame, cell) ? [index + 1] : []));
}

/** The digits as characters; null when bars make none. */
function textOf(frame: Uint8Array, { digits }: DisplayLayout): string | null {
  const characters = digits.map((digit) =>
    characterOf(SEGMENTS.filter((segment) => isLit(frame, digit[segment]))),
  );
  return characters.includes(null) ? null : characters.join('');
}

function isLit(frame: Uint8Array, [byte, bit]: Cell): boolean {
  return (((frame[byte - 1] ?? 0) >>> bit) & 1) === 1;
}
