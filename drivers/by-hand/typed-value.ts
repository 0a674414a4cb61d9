import type { Measurand, ReadingMark } from '../driver.js';
import { NumberReader } from '../lines/number-reader.js';
import { timesPower, unitPower } from '../lines/unit-words.js';
import { UNIT_OF } from '../units.js';

/** What a person read off a meter, in the measurand's unit; `value` is NaN when `mark` is set. */
export type TypedValue =
  | { readonly value: number; readonly mark: ReadingMark | null; readonly why: null }
  /** What is wrong with it, with the cure. */
  | { readonly why: string };

const LONGEST = 60;
const PREFIX_POWERS: Readonly<Record<string, number>> = {
  n: -9,
  u: -6,
  '\u00b5': -6,
  '\u03bc': -6,
  m: -3,
  k: 3,
  M: 6,
};
const ENCODER = new TextEncoder();

/** Reads `12.03`, `12,03`, `45m`, `45 mV` or `OL` as a person types it. */
export function readTyped(typed: string, measurand: Measurand): TypedValue {
  const text = typed.trim();
  const numbers = new NumberReader(text.includes(',') ? 'comma' : 'point');
  if (text.length > LONGEST || !numbers.read(ENCODER.encode(text), 0)) return refusal(text, measurand);
  // All that the number reader takes is ASCII, so that places in the bytes are places in the text.
  const unit = text.slice(numbers.end).trim();
  const power = powerOf(unit, measurand);
  if (power === undefined) return refusal(text, measurand);
  if (numbers.mark !== null) return { value: NaN, mark: numbers.mark, why: null };
  const value = timesPower(numbers.value, power);
  return Number.isFinite(value) ? { value, mark: null, why: null } : refusal(text, measurand);
}

/** A bare prefix goes with whatever is measured, but for a temperature. */
function powerOf(unit: string, measurand: Measurand): number | undefined {
  if (unit === '') return 0;
  const own = unitPower(measurand, unit);
  if (own !== undefined || measurand === 'temperature') return own;
  return Object.hasOwn(PREFIX_POWERS, unit) ? PREFIX_POWERS[unit] : undefined;
}

function refusal(text: string, measurand: Measurand): TypedValue {
  const examples = measurand === 'temperature' ? '41.5 or OL' : '12.03, 45m or OL';
  const shown = text.length > LONGEST ? `${text.slice(0, LONGEST)}…` : text;
  return { why: `"${shown}" is no reading in ${UNIT_OF[measurand]}; type a number such as ${examples}` };
}
