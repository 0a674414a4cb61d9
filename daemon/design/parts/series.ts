/** Preferred values of one decade, 1 to 10. Source: IEC 60063. */
export const E12 = [1, 1.2, 1.5, 1.8, 2.2, 2.7, 3.3, 3.9, 4.7, 5.6, 6.8, 8.2] as const;

/** Source: IEC 60063. Eight values differ from round(10^(i/24), 1), so the list is written out. */
export const E24 = [
  1, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2, 2.2, 2.4, 2.7, 3, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2,
  9.1,
] as const;

/** Source: IEC 60063; equals round(10^(i/96), 2). */
export const E96 = [
  1, 1.02, 1.05, 1.07, 1.1, 1.13, 1.15, 1.18, 1.21, 1.24, 1.27, 1.3, 1.33, 1.37, 1.4, 1.43, 1.47, 1.5, 1.54,
  1.58, 1.62, 1.65, 1.69, 1.74, 1.78, 1.82, 1.87, 1.91, 1.96, 2, 2.05, 2.1, 2.15, 2.21, 2.26, 2.32, 2.37,
  2.43, 2.49, 2.55, 2.61, 2.67, 2.74, 2.8, 2.87, 2.94, 3.01, 3.09, 3.16, 3.24, 3.32, 3.4, 3.48, 3.57, 3.65,
  3.74, 3.83, 3.92, 4.02, 4.12, 4.22, 4.32, 4.42, 4.53, 4.64, 4.75, 4.87, 4.99, 5.11, 5.23, 5.36, 5.49, 5.62,
  5.76, 5.9, 6.04, 6.19, 6.34, 6.49, 6.65, 6.81, 6.98, 7.15, 7.32, 7.5, 7.68, 7.87, 8.06, 8.25, 8.45, 8.66,
  8.87, 9.09, 9.31, 9.53, 9.76,
] as const;

/**
 * The preferred value closest to `value` by ratio.
 * @throws {RangeError} when `value` isn't a positive number.
 */
export function nearestInSeries(value: number, series: readonly number[]): number {
  if (!(value > 0 && Number.isFinite(value))) {
    throw new RangeError(`no preferred value lies near ${value}; a positive number is needed`);
  }
  const decade = 10 ** Math.floor(Math.log10(value));
  const candidates = [...series, 10].map((digit) => tidy(digit * decade));
  return candidates.reduce((best, next) => (distance(next, value) < distance(best, value) ? next : best));
}

function distance(a: number, b: number): number {
  return Math.abs(Math.log(a / b));
}

/** Takes away what binary fractions add: 2.05 x 1000 is 2050. */
function tidy(value: number): number {
  return Number(value.toPrecision(6));
}
