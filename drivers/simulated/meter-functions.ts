import type { Measurand } from '../driver.js';

/** What a meter can be set to. Ranges in the unit of the measurand, rising. */
export interface MeterFunction {
  readonly measures: Measurand;
  /** As SCPI writes it after CONFigure: and MEASure: */
  readonly header: string;
  /** As the instrument names it itself. */
  readonly shortName: string;
  readonly ranges: readonly number[];
}

/** The MEASure family of SCPI-1999, volume 2, chapter 3; ranges as common bench meters have them. */
export const METER_FUNCTIONS: readonly MeterFunction[] = [
  { measures: 'dc-volts', header: 'VOLTage[:DC]', shortName: 'VOLT', ranges: [0.1, 1, 10, 100, 1000] },
  { measures: 'ac-volts', header: 'VOLTage:AC', shortName: 'VOLT:AC', ranges: [0.1, 1, 10, 100, 750] },
  { measures: 'dc-amps', header: 'CURRent[:DC]', shortName: 'CURR', ranges: [0.01, 0.1, 1, 10] },
  { measures: 'ac-amps', header: 'CURRent:AC', shortName: 'CURR:AC', ranges: [0.01, 0.1, 1, 10] },
  { measures: 'ohms', header: 'RESistance', shortName: 'RES', ranges: [100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8] },
  { measures: 'temperature', header: 'TEMPerature', shortName: 'TEMP', ranges: [1000] },
  { measures: 'frequency', header: 'FREQuency', shortName: 'FREQ', ranges: [1000, 1e4, 1e5] },
];

/** A range is good for this much more than its name says. */
const OVER_RANGE = 1.2;
/** A digit of a five-and-a-half-digit meter, as a share of the range. */
const DIGIT_SHARE = 1e-5;

/** The smallest range that holds this value; null when none does. */
export function rangeFor(ranges: readonly number[], value: number): number | null {
  return ranges.find((range) => Math.abs(value) <= range * OVER_RANGE) ?? null;
}

/** What one digit is worth on a range. */
export function digitOn(range: number): number {
  return range * DIGIT_SHARE;
}

/** A number as an instrument sends it (IEEE 488.2 NR3), for example `+1.20300000E+01`. */
export function nr3(value: number): string {
  const [mantissa = '', exponent = '0'] = Math.abs(value).toExponential(8).split('e');
  const power = Number(exponent);
  const sign = value < 0 ? '-' : '+';
  return `${sign}${mantissa}E${power < 0 ? '-' : '+'}${String(Math.abs(power)).padStart(2, '0')}`;
}

/** SCPI's numbers for overload and for not-a-number. */
export const OVERLOAD = 9.9e37;
export const NOT_A_NUMBER = 9.91e37;
