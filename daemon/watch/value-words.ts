import type { PointUnit } from '../predict/prediction.js';
import { spokenNumber } from './spoken-number.js';

interface UnitWords {
  readonly symbol: string;
  readonly spokenOne: string;
  readonly spokenMany: string;
  /** Said and written after the unit. */
  readonly suffix: string;
}

const UNITS: Readonly<Record<PointUnit, UnitWords>> = {
  V: { symbol: 'V', spokenOne: 'volt', spokenMany: 'volts', suffix: '' },
  Vrms: { symbol: 'V', spokenOne: 'volt', spokenMany: 'volts', suffix: ' RMS' },
  Vpp: { symbol: 'V', spokenOne: 'volt', spokenMany: 'volts', suffix: ' peak to peak' },
  A: { symbol: 'A', spokenOne: 'amp', spokenMany: 'amps', suffix: '' },
  Arms: { symbol: 'A', spokenOne: 'amp', spokenMany: 'amps', suffix: ' RMS' },
  ohm: { symbol: 'Ω', spokenOne: 'ohm', spokenMany: 'ohms', suffix: '' },
  degC: { symbol: '°C', spokenOne: 'degree', spokenMany: 'degrees', suffix: '' },
  Hz: { symbol: 'Hz', spokenOne: 'hertz', spokenMany: 'hertz', suffix: '' },
  W: { symbol: 'W', spokenOne: 'watt', spokenMany: 'watts', suffix: '' },
};

const PREFIX_WORDS = { '': '', m: 'milli', k: 'kilo', M: 'mega' } as const;
type Prefix = keyof typeof PREFIX_WORDS;

interface Scaled {
  readonly digits: string;
  readonly prefix: Prefix;
}

/** A value as a person writes it: `5.02 V`, `71 °C`, `38 mV`, `4.70 kΩ`. */
export function valueWords(value: number, unit: PointUnit): string {
  const { digits, prefix } = scale(value, unit);
  const { symbol, suffix } = UNITS[unit];
  return `${digits} ${prefix}${symbol}${suffix}`;
}

/** `4.80 to 5.20 V`, `0.96 to 1.45 V peak to peak`: both in the unit and with the decimals of the larger one. */
export function rangeWords(low: number, high: number, unit: PointUnit): string {
  const larger = Math.max(Math.abs(low), Math.abs(high));
  const { digits, prefix } = scale(high, unit, larger);
  const { symbol, suffix } = UNITS[unit];
  return `${scale(low, unit, larger).digits} to ${digits} ${prefix}${symbol}${suffix}`;
}

/** The same as it is said: `five point zero two volts`. */
export function spokenValue(value: number, unit: PointUnit): string {
  const { digits, prefix } = scale(value, unit);
  const { spokenOne, spokenMany, suffix } = UNITS[unit];
  const name = Number(digits) === 1 ? spokenOne : spokenMany;
  return `${spokenNumber(digits)} ${PREFIX_WORDS[prefix]}${name}${suffix}`;
}

/** @param size decides about the prefix and the decimals */
function scale(value: number, unit: PointUnit, size = Math.abs(value)): Scaled {
  if (unit === 'degC') return { digits: digitsOf(value, 0), prefix: '' };
  if (unit === 'Hz') return { digits: digitsOf(value, 1), prefix: '' };
  if (unit === 'ohm') return scaleOhms(value, size);
  // Under this a value would be rounded to nothing.
  if (size < 0.00005) return { digits: '0', prefix: '' };
  if (size < 0.9995) return { digits: digitsOf(value * 1000, size < 0.00995 ? 1 : 0), prefix: 'm' };
  return { digits: digitsOf(value, size < 99.995 ? 2 : 1), prefix: '' };
}

function scaleOhms(value: number, size: number): Scaled {
  if (size >= 999_500) return { digits: threeDigits(value / 1e6, size / 1e6), prefix: 'M' };
  if (size >= 999.5) return { digits: threeDigits(value / 1e3, size / 1e3), prefix: 'k' };
  return { digits: threeDigits(value, size), prefix: '' };
}

function threeDigits(value: number, size: number): string {
  return digitsOf(value, size < 9.995 ? 2 : size < 99.95 ? 1 : 0);
}

function digitsOf(value: number, decimals: number): string {
  const digits = value.toFixed(decimals);
  return Number(digits) === 0 ? digits.replace('-', '') : digits;
}
