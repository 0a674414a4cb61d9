import type { PointView } from '../daemon/serve/messages.js';
import { formatNumber, pointStyle } from './format.js';
import { STANDING_WORDS, type Standing } from './point-standing.js';

const DIGITS = ['oh', 'one', 'two', 'three', 'four', 'five', 'six', 'seven', 'eight', 'nine'] as const;

/** A written number as it is said at a bench: `5.02` five point oh two, `12` stays a number for the voice to read. */
export function spokenNumber(written: string): string {
  const bare = written.replace('\u2212', '-');
  const [whole = '', decimals] = bare.replace('-', '').split('.');
  const minus = bare.startsWith('-') ? 'minus ' : '';
  const front = whole.length === 1 && whole !== '0' ? DIGITS[Number(whole)] : whole === '0' ? 'zero' : whole;
  if (decimals === undefined) return `${minus}${front}`;
  return `${minus}${front} point ${[...decimals].map((digit) => DIGITS[Number(digit)] ?? digit).join(' ')}`;
}

/** A reading for the ear, as short as it is useful: `logic rail, five point oh two, inside`; null: it isn't judged. */
export function spokenReading(point: PointView, value: number, standing: Standing | null): string {
  const style = pointStyle(point);
  const number = spokenNumber(formatNumber(value, style));
  // Volts go without saying where volts are predicted; thousandths do not.
  const unit = style.unitText.startsWith('m') ? ' milli' : point.unit === 'degC' ? ' degrees' : '';
  return `${shortLabel(point)}, ${number}${unit}${standing === null ? '' : `, ${STANDING_WORDS[standing]}`}`;
}

/** What a point is called in speech: nothing after the comma. */
export function shortLabel({ label }: Pick<PointView, 'label'>): string {
  return label.split(',', 1)[0] ?? label;
}

const PREFIXES: Readonly<Record<string, string>> = { m: 'milli', k: 'kilo', M: 'mega', µ: 'micro' };
const UNITS: Readonly<Record<string, string>> = {
  V: 'volt',
  A: 'amp',
  W: 'watt',
  Ω: 'ohm',
  s: 'second',
  min: 'minute',
};

/** A voice reads `1.9 mV pp` letter by letter. */
export function withUnitsInWords(words: string): string {
  return words.replace(
    /(?<![\d.])([\d.]+)[ \u00a0]([mkMµ]?)(V|A|W|Ω|s|min)( pp)?(?![\p{L}/])/gu,
    (_all, number: string, prefix: string, unit: string, pp: string | undefined) =>
      `${number} ${PREFIXES[prefix] ?? ''}${UNITS[unit]}${number === '1' ? '' : 's'}${pp ? ' peak to peak' : ''}`,
  );
}
