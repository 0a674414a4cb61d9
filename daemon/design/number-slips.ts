/** Multipliers that people write after or inside a number: 4k7, 240R, 0.3 mA. */
const MULTIPLIERS: Readonly<Record<string, number>> = {
  p: 1e-12,
  n: 1e-9,
  u: 1e-6,
  µ: 1e-6,
  μ: 1e-6,
  m: 1e-3,
  '': 1,
  R: 1,
  r: 1,
  k: 1e3,
  K: 1e3,
  M: 1e6,
};

const NUMBER_WITH_UNIT = /^([+-]?\d+(?:[.,]\d+)?)\s*(?:([pnuµμmkKM])\s*)?([A-Za-zΩ°%/]*)$/;
const LETTER_AS_POINT = /^(\d+)([RrkKM])(\d+)$/;

/**
 * The plain number that a text with a unit, a multiplier or a decimal comma stands for, in `unit`: `0,5` is 0.5,
 * `4k7` is 4700, `300 mA` is 0.3, and `4700uF` is 4700 where microfarads are asked for.
 * @returns null when it can't be told.
 */
export function numberMeant(written: string, key: string): number | null {
  const text = written.trim();
  const letter = LETTER_AS_POINT.exec(text);
  if (letter) return tidy(Number(`${letter[1]}.${letter[3]}`) * (MULTIPLIERS[letter[2] ?? ''] ?? NaN));
  const match = NUMBER_WITH_UNIT.exec(text);
  if (!match) return null;
  const [, digits = '', multiplier = ''] = match;
  const scale = (MULTIPLIERS[multiplier] ?? NaN) / (key.endsWith('_uF') && multiplier !== '' ? 1e-6 : 1);
  return tidy(Number(digits.replace(',', '.')) * scale);
}

function tidy(value: number): number | null {
  return Number.isFinite(value) ? Number(value.toPrecision(6)) : null;
}

/** A range outside which a number is almost surely in another unit, and the factor that puts it right. */
interface UnitSlip {
  readonly keys: RegExp;
  readonly low: number;
  readonly high: number;
  readonly words: string;
  /** Tried in turn; the first that lands in the range is the guess. */
  readonly factors: readonly number[];
}

const SLIPS: readonly UnitSlip[] = [
  {
    keys: /^(reservoir|negative_reservoir|filter)\.capacity_uF$/,
    low: 1,
    high: 1e6,
    words: '1 to 1000000 microfarads',
    factors: [1e6, 1e3, 1e-3],
  },
  {
    keys: /\.adjust_capacitor_uF$/,
    low: 0.01,
    high: 1000,
    words: '0.01 to 1000 microfarads',
    factors: [1e6, 1e-6],
  },
  { keys: /\.load\.(idle|typical|full)(\.amps)?$/, low: 0, high: 20, words: '0 to 20 amps', factors: [1e-3] },
  { keys: /\.r1$/, low: 10, high: 20_000, words: '10 to 20000 ohms', factors: [1e3, 1e-3] },
  { keys: /\.r2$/, low: 1, high: 500_000, words: '1 to 500000 ohms', factors: [1e3, 1e-3] },
  {
    keys: /^(reservoir|negative_reservoir|filter)\.esr$/,
    low: 0,
    high: 10,
    words: '0 to 10 ohms',
    factors: [1e-3],
  },
  {
    keys: /^(reservoir|negative_reservoir)\.bleed$/,
    low: 10,
    high: 1e7,
    words: '10 to 10000000 ohms',
    factors: [1e3],
  },
  { keys: /\.series(\.ohms)?$/, low: 0.01, high: 10_000, words: '0.01 to 10000 ohms', factors: [1e-3, 1e3] },
  {
    keys: /^(filter|rails\.[^.]+\.regulator)\.resistor$/,
    low: 0.1,
    high: 1e6,
    words: '0.1 to 1000000 ohms',
    factors: [1e3, 1e-3],
  },
  {
    keys: /_mm$/,
    low: 0.1,
    high: 1000,
    words: '0.1 to 1000 millimetres',
    factors: [1e3, 10, 0.1],
  },
  { keys: /^mains\.volts$/, low: 80, high: 280, words: '80 to 280 volts RMS', factors: [1e3, 1e-3] },
  { keys: /^transformer\.volts$/, low: 1, high: 120, words: '1 to 120 volts RMS', factors: [1e3, 1e-3] },
  {
    keys: /^transformer\.va$/,
    low: 0.3,
    high: 5000,
    words: '0.3 to 5000 volt-amperes',
    factors: [1e3, 1e-3],
  },
  { keys: /^transformer\.amps$/, low: 0.01, high: 200, words: '0.01 to 200 amps', factors: [1e-3] },
  {
    keys: /^transformer\.winding_ohms$/,
    low: 0.001,
    high: 1000,
    words: '0.001 to 1000 ohms',
    factors: [1e-3],
  },
];

/** A number that is probably in another unit: what is allowed there, and what was probably meant. */
export interface Slip {
  readonly allowed: string;
  readonly meant: number | null;
}

/** Looks at one number under its dotted key; null when nothing is odd. */
export function unitSlip(key: string, value: number): Slip | null {
  const rule = SLIPS.find(({ keys }) => keys.test(key));
  if (rule === undefined || (value >= rule.low && value <= rule.high)) return null;
  const guesses = rule.factors.map((factor) => Number((value * factor).toPrecision(6)));
  const meant = guesses.find((guess) => guess >= rule.low && guess <= rule.high) ?? null;
  return { allowed: rule.words, meant };
}
